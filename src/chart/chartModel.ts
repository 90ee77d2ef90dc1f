import { normalDensity, normalIntegral } from '../math/normalIntegral.js'
import type { Quad } from '../math/point.js'
import { inwardSides } from './blurredArea.js'
import {
  boxCorners,
  chartAreas,
  chartFace,
  FRAME,
  moduleM,
  type ChartArea,
  type ModuleBox,
} from './chartGeometry.js'
import { CHART_PAPERS } from './chartPapers.js'
import { boxTo, mapPoint, type PlaneMap } from './planeMap.js'

/** Parameters of the modelled chart, in this order: frame corners x1, y1 ... y4 (px), blur, edge shift (px), paper, ink (linear light), light slopes, how much lighter than paper the surround is beyond each side of the sheet. */
export const MODEL_PARAMETERS = 18
export const BLUR = 8
export const SHIFT = 9
export const PAPER = 10
export const INK = 11
export const SLOPE_X = 12
export const SLOPE_Y = 13
/** Beyond the top, right, bottom and left side. */
export const SURROUND = 14

/** The frame's corners out of a parameter vector. */
export function modelCorners(parameters: Float64Array): Quad {
  const at = (k: number): readonly [number, number] => [parameters[2 * k]!, parameters[2 * k + 1]!]
  return [at(0), at(1), at(2), at(3)]
}

/** The map, modules to px, of a parameter vector. */
export function modelMap(parameters: Float64Array): PlaneMap {
  return boxTo(FRAME, modelCorners(parameters))
}

/** The sheet of the paper with that face, modules: the field and what the paper has beyond it. */
function sheetBox(face: number): ModuleBox {
  const paper = CHART_PAPERS.find((one) => one.face === face)!
  const halfWidth = paper.widthM / moduleM(paper) / 2
  const halfHeight = paper.heightM / moduleM(paper) / 2
  return { left: 7 - halfWidth, right: 7 + halfWidth, top: 5 - halfHeight, bottom: 5 + halfHeight }
}

/** Which way the sides of an area move when ink spreads: outwards where the area adds ink, inwards where it takes it away; not between fine-line areas. */
function sideShifts(area: ChartArea): readonly [number, number, number, number] {
  if (area.part === 'strip') return [0, 0, -1, 0]
  const sign = area.weight > 0 ? 1 : -1
  return area.part === 'lightHalf' ? [sign, sign, 0, sign] : [sign, sign, sign, sign]
}

/** Beyond so many blurs from a side its step is over. */
const REACH = 4.5

/**
 * The chart as a camera sees it: areas as quads in the image, blurred by one Gaussian (the pixel's own aperture included as a variance of
 * 1/12 px^2), in linear light. Set to a parameter vector, it gives the share of ink at a point and its derivatives.
 */
export class ChartModel {
  readonly #areas: readonly ChartArea[]
  readonly #shifts: readonly (readonly [number, number, number, number])[]
  /** Per area: four sides (nx, ny, c) in px. */
  readonly #sides: Float64Array
  readonly #sheet: ModuleBox
  readonly #sheetSides = new Float64Array(12)
  /** Per corner coordinate 0..7, the change of #sides. */
  readonly #sideSlopes: Float64Array
  #blur = 1
  #shift = 0

  constructor(face: number) {
    this.#areas = chartAreas(chartFace(face))
    this.#sheet = sheetBox(face)
    this.#shifts = this.#areas.map(sideShifts)
    this.#sides = new Float64Array(12 * this.#areas.length)
    this.#sideSlopes = new Float64Array(8 * 12 * this.#areas.length)
  }

  /** Takes over a parameter vector; with `slopes`, the derivatives of the sides too. */
  set(parameters: Float64Array, slopes: boolean): void {
    this.#blur = parameters[BLUR]!
    this.#shift = parameters[SHIFT]!
    this.#writeSides(parameters, this.#sides)
    const map = modelMap(parameters)
    const sheet = boxCorners(this.#sheet).map((corner) => mapPoint(map, corner[0], corner[1]))
    this.#sheetSides.set(inwardSides(sheet as unknown as Quad))
    if (!slopes) return
    const size = this.#sides.length
    const step = 1e-4
    const moved = parameters.slice()
    const plus = new Float64Array(size)
    const minus = new Float64Array(size)
    for (let k = 0; k < 8; k += 1) {
      moved[k] = parameters[k]! + step
      this.#writeSides(moved, plus)
      moved[k] = parameters[k]! - step
      this.#writeSides(moved, minus)
      moved[k] = parameters[k]!
      for (let at = 0; at < size; at += 1)
        this.#sideSlopes[k * size + at] = (plus[at]! - minus[at]!) / (2 * step)
    }
  }

  #writeSides(parameters: Float64Array, out: Float64Array): void {
    const map = modelMap(parameters)
    this.#areas.forEach((area, index) => {
      const quad = area.corners.map((corner) => mapPoint(map, corner[0], corner[1])) as unknown as Quad
      out.set(inwardSides(quad), 12 * index)
    })
  }

  /** Distance in px to the nearest side of any area: how near an edge a point lies. */
  edgeDistance(x: number, y: number): number {
    let least = Infinity
    for (let at = 0; at < this.#sides.length; at += 12) {
      let inside = Infinity
      for (let side = 0; side < 12; side += 3)
        inside = Math.min(
          inside,
          this.#sides[at + side]! * x + this.#sides[at + side + 1]! * y + this.#sides[at + side + 2]!,
        )
      least = Math.min(least, Math.abs(inside))
    }
    return least
  }

  /** How much of what lies beyond the sheet's top, right, bottom and left side the blur brings to an image point (px): four shares. */
  surround(x: number, y: number, out: Float64Array): void {
    const sides = this.#sheetSides
    for (let side = 0; side < 4; side += 1) {
      const d = (sides[3 * side]! * x + sides[3 * side + 1]! * y + sides[3 * side + 2]!) / this.#blur
      out[side] = d > REACH ? 0 : normalIntegral(-d)
    }
  }

  /** Share of ink at an image point (px); `gradient`, if given, gets its derivatives with respect to corners, blur and shift (10 values). */
  ink(x: number, y: number, gradient: Float64Array | null): number {
    const blur = this.#blur
    const size = this.#sides.length
    let ink = 0
    gradient?.fill(0, 0, 10)
    for (let index = 0; index < this.#areas.length; index += 1) {
      const at = 12 * index
      const sides = this.#sides
      const shifts = this.#shifts[index]!
      const d0 = (sides[at]! * x + sides[at + 1]! * y + sides[at + 2]! + shifts[0] * this.#shift) / blur
      if (d0 < -REACH) continue
      const d1 = (sides[at + 3]! * x + sides[at + 4]! * y + sides[at + 5]! + shifts[1] * this.#shift) / blur
      if (d1 < -REACH) continue
      const d2 = (sides[at + 6]! * x + sides[at + 7]! * y + sides[at + 8]! + shifts[2] * this.#shift) / blur
      if (d2 < -REACH) continue
      const d3 = (sides[at + 9]! * x + sides[at + 10]! * y + sides[at + 11]! + shifts[3] * this.#shift) / blur
      if (d3 < -REACH) continue
      const weight = this.#areas[index]!.weight
      if (d0 > REACH && d1 > REACH && d2 > REACH && d3 > REACH) {
        ink += weight
        continue
      }
      const bandA = normalIntegral(d0) + normalIntegral(d2) - 1
      const bandB = normalIntegral(d1) + normalIntegral(d3) - 1
      const [p0, p1, p2, p3] = [normalDensity(d0), normalDensity(d1), normalDensity(d2), normalDensity(d3)]
      // Sides that do not meet at right angles: first term of the bivariate normal's series in the correlation of the two distances.
      const skew =
        p0 * p1 * (sides[at]! * sides[at + 3]! + sides[at + 1]! * sides[at + 4]!) +
        p1 * p2 * (sides[at + 3]! * sides[at + 6]! + sides[at + 4]! * sides[at + 7]!) +
        p2 * p3 * (sides[at + 6]! * sides[at + 9]! + sides[at + 7]! * sides[at + 10]!) +
        p3 * p0 * (sides[at + 9]! * sides[at]! + sides[at + 10]! * sides[at + 1]!)
      ink += weight * (bandA * bandB + skew)
      if (gradient === null) continue
      for (let side = 0; side < 4; side += 1) {
        const density = side === 0 ? p0 : side === 1 ? p1 : side === 2 ? p2 : p3
        if (density < 1e-5) continue
        const other = (side & 1) === 0 ? bandB : bandA
        const slope = (weight * density * other) / blur
        const from = at + 3 * side
        for (let k = 0; k < 8; k += 1) {
          const base = k * size + from
          gradient[k]! +=
            slope *
            (this.#sideSlopes[base]! * x + this.#sideSlopes[base + 1]! * y + this.#sideSlopes[base + 2]!)
        }
        const d = side === 0 ? d0 : side === 1 ? d1 : side === 2 ? d2 : d3
        gradient[BLUR]! -= slope * d
        gradient[SHIFT]! += slope * shifts[side]!
      }
    }
    return ink
  }
}
