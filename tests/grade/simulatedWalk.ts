import type { Point, Quad } from '../../src/math/point.js'
import type { Random } from '../../src/math/random.js'
import type { JudgedStill } from '../../src/grade/judgement.js'
import { measureDensity } from '../../src/measure/density/density.js'
import type { RectangleReference } from '../../src/measure/reference/reference.js'

/** A pinhole of F px per radian at the middle of a 3840 x 2160 still. */
const STILL = { width: 3840, height: 2160 }

export interface WalkScene {
  readonly reference: RectangleReference
  readonly marksM: readonly number[]
  readonly pixelsPerRadian: number
  readonly tapeToleranceM: number
  /** Metres the lens hangs above the reference's middle; the reference is held upright. 0: square to the ray. */
  readonly dropM?: number
  /** Half-width of where the tape measure starts (rectangular), metres; 0.03 m, normal, unless said. */
  readonly startM?: number
  /** Index of a mark whose tape is wrong, and the true distance over the taped one. */
  readonly wrong?: { readonly index: number; readonly ratio: number }
}

export interface SimulatedWalk {
  readonly stills: readonly JudgedStill[]
  /** Where the tape really begins, metres before the lens. */
  readonly offsetM: number
}

/** A board 600 x 400 mm cut to a millimetre, and the common blank of a plate. */
export const BOARD = reference('board', 0.6, 0.4, 'plain')
export const PLATE = reference('plate', 0.52, 0.11, 'characters')

function reference(
  name: string,
  widthM: number,
  heightM: number,
  marking: RectangleReference['marking'],
): RectangleReference {
  return {
    kind: 'rectangle',
    name,
    widthM,
    heightM,
    widthToleranceM: 0.001,
    heightToleranceM: 0.001,
    marking,
  }
}

/** What the object and the lens are, whichever walk they are measured on: the true sizes, metres, and the bend at unit angle. */
export interface TrueObject {
  readonly widthM: number
  readonly heightM: number
  readonly bend: number
}

/** Draws the true sizes within their tolerances, and the bend of the lens (rectangular, from none to the greatest stated for an unknown lens, which draws things smaller). */
export function drawObject({ reference: nominal }: WalkScene, random: Random): TrueObject {
  const spread = (halfWidth: number): number => halfWidth * (2 * random.uniform() - 1)
  return {
    widthM: nominal.widthM + spread(nominal.widthToleranceM),
    heightM: nominal.heightM + spread(nominal.heightToleranceM),
    bend: (spread(0.37) - 0.37) / 2,
  }
}

/**
 * One walk, its corners projected exactly and then clicked. Drawn once per walk: the sizes, the click bias (0.2 px per end, outward),
 * the bend of the lens (rectangular, as stated for an unknown lens) and the offset of the tape. Drawn per mark: the tape; per corner: 0.5 px.
 * Two walks of one camera with one reference share an object.
 */
export function simulateWalk(scene: WalkScene, random: Random, object?: TrueObject): SimulatedWalk {
  const { reference: nominal, pixelsPerRadian } = scene
  const spread = (halfWidth: number): number => halfWidth * (2 * random.uniform() - 1)
  const offsetM = scene.startM === undefined ? 0.03 * random.normal() : spread(scene.startM)
  const { widthM, heightM, bend } = object ?? drawObject(scene, random)
  const outwardPx = 0.2 * random.normal()
  const stills = scene.marksM.map((markM, index): JudgedStill => {
    const ratio = scene.wrong?.index === index ? scene.wrong.ratio : 1
    const distanceM = markM * ratio + spread(scene.tapeToleranceM) + offsetM
    const pitch = Math.asin((scene.dropM ?? 0) / distanceM)
    const shrunk = 1 + bend * (Math.hypot(widthM, heightM) / 2 / distanceM) ** 2
    const corner = (right: number, down: number): Point => {
      const y = (down * heightM * shrunk * Math.cos(pitch)) / 2
      const z = distanceM + (down * heightM * Math.sin(pitch)) / 2
      const clicked = (away: number): number => away * outwardPx + 0.5 * random.normal()
      return [
        STILL.width / 2 + (pixelsPerRadian * right * widthM * shrunk) / 2 / z + clicked(right),
        STILL.height / 2 + (pixelsPerRadian * y) / z + clicked(down),
      ]
    }
    const corners: Quad = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)]
    const measured = measureDensity(
      nominal,
      { kind: 'corners', corners, sigmaPx: 0.5, method: 'hand' },
      { stillWidth: STILL.width, stillHeight: STILL.height, distanceM: markM },
    )
    if (!measured.ok) throw new Error(measured.message)
    return {
      file: `stills/day/${markM}m.png`,
      light: 'day',
      reference: nominal.name,
      distanceM: markM,
      lineOfSightM: markM,
      grade: null,
      gradeByPixels: null,
      usable: null,
      measurement: {
        ...STILL,
        method: 'picks',
        ...measured.value,
        sharpness: null,
        tone: null,
        effectiveDensity: null,
      },
    }
  })
  return { stills, offsetM }
}
