import { greySurface, shareWithin, type Surface } from '../camera/planarTarget.js'
import { strokeDistance, strokeText } from './strokeFont.js'

/** A carried reference: its size, the half extents of what is drawn around it, and its look for one light. */
export interface CarriedReference {
  readonly widthM: number
  readonly heightM: number
  readonly halfWidthM: number
  readonly halfHeightM: number
  readonly surface: Surface
}

const BOARD = { widthM: 0.6, heightM: 0.4, panelHalfWidthM: 0.4, panelHalfHeightM: 0.3 }
const BOARD_WHITE = 0.75
const PANEL_BLACK = 0.045

/** A matt white board, 600 x 400 mm, on a black panel that leaves 100 mm of quiet ground on every side. Levels are shares of light thrown back. */
export function carriedBoard(): CarriedReference {
  const { widthM, heightM, panelHalfWidthM, panelHalfHeightM } = BOARD
  return {
    widthM,
    heightM,
    halfWidthM: panelHalfWidthM,
    halfHeightM: panelHalfHeightM,
    surface: greySurface(panelHalfWidthM, panelHalfHeightM, (u, v, boxU, boxV) => {
      const white =
        shareWithin(u, boxU, -widthM / 2, widthM / 2) * shareWithin(v, boxV, -heightM / 2, heightM / 2)
      return PANEL_BLACK + (BOARD_WHITE - PANEL_BLACK) * white
    }),
  }
}

const PLATE = { widthM: 0.52, heightM: 0.11, glareM: 0.07 }
/** Invented: no place issues it. */
const PLATE_TEXT = 'SLIP 042'
const LETTER_HEIGHT_M = 0.064
const STROKE_M = 0.011

/** How a plate throws light back: its ground and its strokes as shares of the light, and the glare it spreads around itself. */
export interface PlateReturn {
  readonly ground: number
  readonly strokes: number
  /** Light at its rim, spread outwards and falling to nothing 70 mm away. */
  readonly glare: number
}

/** By daylight or a lamp: an ordinary light ground with dark characters. */
export const PLATE_BY_DAY: PlateReturn = { ground: 0.68, strokes: 0.04, glare: 0 }

/**
 * Under a lamp beside the lens a retroreflective ground throws back many times what a matt white would; a share of that
 * spreads in the lens over the strokes and around the plate.
 */
export const PLATE_UNDER_INFRARED: PlateReturn = { ground: 14, strokes: 5.2, glare: 1.6 }

/** A plate of 520 x 110 mm with invented characters. */
export function carriedPlate(back: PlateReturn): CarriedReference {
  const { widthM, heightM } = PLATE
  const glareM = back.glare > 0 ? PLATE.glareM : 0
  const text = strokeText(PLATE_TEXT, LETTER_HEIGHT_M, 0.36)
  return {
    widthM,
    heightM,
    halfWidthM: widthM / 2 + glareM,
    halfHeightM: heightM / 2 + glareM,
    surface: (u, v, boxU, boxV, out) => {
      const plate =
        shareWithin(u, boxU, -widthM / 2, widthM / 2) * shareWithin(v, boxV, -heightM / 2, heightM / 2)
      let level = 0
      let glare = 0
      if (plate > 0) {
        const off = strokeDistance(text, u + text.width / 2, v + text.height / 2)
        const stroke = Math.max(0, Math.min(1, 0.5 + (STROKE_M / 2 - off) / ((boxU + boxV) / 2)))
        level = back.ground + (back.strokes - back.ground) * stroke
      }
      if (plate < 1 && glareM > 0) {
        const away = Math.hypot(Math.max(0, Math.abs(u) - widthM / 2), Math.max(0, Math.abs(v) - heightM / 2))
        glare = back.glare * Math.max(0, 1 - away / glareM) ** 2
      }
      // Glare adds to what is there instead of covering it: full light with next to no coverage.
      const coverage = Math.max(plate, glare > 0 ? 1e-4 : 0)
      const sum = coverage > 0 ? (level * plate + glare * (1 - plate)) / coverage : 0
      out.red = sum
      out.green = sum
      out.blue = sum
      out.coverage = coverage
    },
  }
}
