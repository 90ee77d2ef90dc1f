import { normalDensity, normalIntegral } from '../../math/normalIntegral.js'
import type { Quad } from '../../math/point.js'
import { inwardSides } from '../match/blurredArea.js'
import {
  boxCorners,
  chartAreas,
  chartFace,
  moduleM,
  type ChartArea,
  type ModuleBox,
} from '../printed/chartGeometry.js'
import { CHART_PAPERS } from '../printed/chartPapers.js'
import { BLUR_X, BLUR_Y, modelMap, SHIFT } from './chartParameters.js'
import { mapPoint } from '../../math/homography.js'

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

/** What an area belongs to, for telling faces apart: 0 both faces alike, 1 left slab, 2 right slab, 3 strip. */
const PART = { frame: 0, lightHalf: 0, darkSlab: 1, lightSlab: 2, strip: 3 } as const

/**
 * The chart as a camera sees it: areas as quads in the image, blurred by one Gaussian (the pixel's own aperture included as a variance of
 * 1/12 px^2), one width across upright edges and one across level ones. Set to a parameter vector, it gives the share of ink at a point
 * and its derivatives by corners, blurs and shift.
 */
export class ChartModel {
  readonly #areas: readonly ChartArea[]
  /** The areas' corners, x and y in turn: modules, and px. */
  readonly #places: Float64Array
  readonly #corners: Float64Array
  readonly #weights: Float64Array
  readonly #shifts: Float64Array
  /** Per area four sides (nx, ny, c), px, and the change of each per corner coordinate 0..7. */
  readonly #sides: Float64Array
  readonly #sideSlopes: Float64Array
  /** The sides moved by the shift and divided by the blur across them; that blur; how the two sides of a corner hang together. */
  readonly #scaled: Float64Array
  readonly #blurs: Float64Array
  readonly #skews: Float64Array
  readonly #sheet: ModuleBox
  readonly #sheetSides = new Float64Array(12)
  readonly #integral = new Float64Array(4)
  readonly #density = new Float64Array(4)
  #blurX = 1
  #blurY = 1

  constructor(face: number) {
    this.#areas = chartAreas(chartFace(face))
    this.#sheet = sheetBox(face)
    const count = this.#areas.length
    this.#places = Float64Array.from(this.#areas.flatMap((area) => area.corners.flat()))
    this.#corners = new Float64Array(8 * count)
    this.#weights = Float64Array.from(this.#areas, (area) => area.weight)
    this.#shifts = Float64Array.from(this.#areas.flatMap(sideShifts))
    this.#sides = new Float64Array(12 * count)
    this.#sideSlopes = new Float64Array(8 * 12 * count)
    this.#scaled = new Float64Array(12 * count)
    this.#blurs = new Float64Array(4 * count)
    this.#skews = new Float64Array(4 * count)
  }

  /** Takes over a parameter vector; with `slopes`, the derivatives of the sides too. */
  set(parameters: Float64Array, slopes: boolean): void {
    this.#blurX = parameters[BLUR_X]!
    this.#blurY = parameters[BLUR_Y]!
    this.#writeSides(parameters, this.#sides)
    this.#scaleSides(parameters[SHIFT]!)
    const map = modelMap(parameters)
    const sheet = boxCorners(this.#sheet).map((corner) => mapPoint(map, corner[0], corner[1]))
    const sheetSides = inwardSides(sheet as unknown as Quad)
    for (let side = 0; side < 4; side += 1) {
      const blur = Math.hypot(this.#blurX * sheetSides[3 * side]!, this.#blurY * sheetSides[3 * side + 1]!)
      for (let k = 0; k < 3; k += 1) this.#sheetSides[3 * side + k] = sheetSides[3 * side + k]! / blur
    }
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
        this.#sideSlopes[8 * at + k] = (plus[at]! - minus[at]!) / (2 * step)
    }
  }

  /** The sides of all areas under a parameter vector: inward unit normals and offsets, as `inwardSides` gives them. */
  #writeSides(parameters: Float64Array, out: Float64Array): void {
    const map = modelMap(parameters)
    const [places, corners] = [this.#places, this.#corners]
    for (let at = 0; at < places.length; at += 2) {
      const u = places[at]!
      const v = places[at + 1]!
      const w = map[6]! * u + map[7]! * v + map[8]!
      corners[at] = (map[0]! * u + map[1]! * v + map[2]!) / w
      corners[at + 1] = (map[3]! * u + map[4]! * v + map[5]!) / w
    }
    for (let side = 0; 2 * side < places.length; side += 1) {
      const from = 2 * side
      const to = side % 4 === 3 ? from - 6 : from + 2
      const x = corners[from]!
      const y = corners[from + 1]!
      const dx = corners[to]! - x
      const dy = corners[to + 1]! - y
      const length = Math.sqrt(dx * dx + dy * dy)
      out[3 * side] = -dy / length
      out[3 * side + 1] = dx / length
      out[3 * side + 2] = (dy * x - dx * y) / length
    }
  }

  #scaleSides(shift: number): void {
    const sides = this.#sides
    for (let side = 0; side < this.#blurs.length; side += 1) {
      const at = 3 * side
      const blur = Math.hypot(this.#blurX * sides[at]!, this.#blurY * sides[at + 1]!)
      this.#blurs[side] = blur
      this.#scaled[at] = sides[at]! / blur
      this.#scaled[at + 1] = sides[at + 1]! / blur
      this.#scaled[at + 2] = (sides[at + 2]! + this.#shifts[side]! * shift) / blur
    }
    for (let side = 0; side < this.#blurs.length; side += 1) {
      const [a, b] = [3 * side, 3 * (side % 4 === 3 ? side - 3 : side + 1)]
      this.#skews[side] =
        this.#blurX ** 2 * this.#scaled[a]! * this.#scaled[b]! +
        this.#blurY ** 2 * this.#scaled[a + 1]! * this.#scaled[b + 1]!
    }
  }

  /** How much of what lies beyond the sheet's top, right, bottom and left side the blur brings to an image point (px): four shares. */
  surround(x: number, y: number, out: Float64Array): void {
    const sides = this.#sheetSides
    for (let side = 0; side < 4; side += 1) {
      const d = sides[3 * side]! * x + sides[3 * side + 1]! * y + sides[3 * side + 2]!
      out[side] = d > EDGE_REACH ? 0 : normalIntegral(-d)
    }
  }

  /** Share of ink at an image point (px); `gradient`, if given, gets its derivatives by corners, blurs and shift (11 values). */
  ink(x: number, y: number, gradient: Float64Array | null): number {
    gradient?.fill(0, 0, SHIFT + 1)
    let ink = 0
    for (let area = 0; area < this.#weights.length; area += 1) ink += this.#areaInk(area, x, y, gradient)
    return ink
  }

  /** The share of ink at an image point (px) apart: what every face has, the left slab's, the right slab's, the strip's. */
  partInk(x: number, y: number, out: Float64Array): void {
    out.fill(0)
    for (let area = 0; area < this.#weights.length; area += 1)
      out[PART[this.#areas[area]!.part]]! += this.#areaInk(area, x, y, null)
  }

  #areaInk(area: number, x: number, y: number, gradient: Float64Array | null): number {
    const scaled = this.#scaled
    const from = 12 * area
    const first = 4 * area
    const d0 = scaled[from]! * x + scaled[from + 1]! * y + scaled[from + 2]!
    if (d0 < -EDGE_REACH) return 0
    const d1 = scaled[from + 3]! * x + scaled[from + 4]! * y + scaled[from + 5]!
    if (d1 < -EDGE_REACH) return 0
    const d2 = scaled[from + 6]! * x + scaled[from + 7]! * y + scaled[from + 8]!
    if (d2 < -EDGE_REACH) return 0
    const d3 = scaled[from + 9]! * x + scaled[from + 10]! * y + scaled[from + 11]!
    if (d3 < -EDGE_REACH) return 0
    const weight = this.#weights[area]!
    if (d0 > EDGE_REACH && d1 > EDGE_REACH && d2 > EDGE_REACH && d3 > EDGE_REACH) return weight
    this.#read(0, d0)
    this.#read(1, d1)
    this.#read(2, d2)
    this.#read(3, d3)
    const integral = this.#integral
    const density = this.#density
    const skews = this.#skews
    const bandA = integral[0]! + integral[2]! - 1
    const bandB = integral[1]! + integral[3]! - 1
    const p0 = density[0]!
    const p1 = density[1]!
    const p2 = density[2]!
    const p3 = density[3]!
    // Sides that do not meet at right angles: first term of the bivariate normal's series in the correlation of the two distances.
    const skew =
      p0 * p1 * skews[first]! +
      p1 * p2 * skews[first + 1]! +
      p2 * p3 * skews[first + 2]! +
      p3 * p0 * skews[first + 3]!
    if (gradient !== null)
      for (let side = 0; side < 4; side += 1) {
        if (density[side]! < 1e-5) continue
        const d = side === 0 ? d0 : side === 1 ? d1 : side === 2 ? d2 : d3
        const slope = weight * density[side]! * ((side & 1) === 0 ? bandB : bandA)
        this.#addSlopes(first + side, x, y, slope, d, gradient)
      }
    return weight * (bandA * bandB + skew)
  }

  /** Looks up a side's step and its slope at `d` blurs inside it. */
  #read(side: number, d: number): void {
    if (d >= EDGE_REACH) {
      this.#integral[side] = 1
      this.#density[side] = 0
      return
    }
    const place = (d + EDGE_REACH) * EDGE_STEPS
    const i = place | 0
    const share = place - i
    this.#integral[side] = EDGE_INTEGRAL[i]! + share * (EDGE_INTEGRAL[i + 1]! - EDGE_INTEGRAL[i]!)
    this.#density[side] = EDGE_DENSITY[i]! + share * (EDGE_DENSITY[i + 1]! - EDGE_DENSITY[i]!)
  }

  #addSlopes(side: number, x: number, y: number, slope: number, d: number, gradient: Float64Array): void {
    const blur = this.#blurs[side]!
    const slopes = this.#sideSlopes
    const at = 3 * side
    const perPx = slope / blur
    const base = 8 * at
    for (let k = 0; k < 8; k += 1)
      gradient[k]! += perPx * (slopes[base + k]! * x + slopes[base + 8 + k]! * y + slopes[base + 16 + k]!)
    // The side's blur is the root of (nx bx)^2 + (ny by)^2.
    const perBlur = (slope * d) / (blur * blur)
    gradient[BLUR_X]! -= perBlur * this.#sides[at]! ** 2 * this.#blurX
    gradient[BLUR_Y]! -= perBlur * this.#sides[at + 1]! ** 2 * this.#blurY
    gradient[SHIFT]! += perPx * this.#shifts[side]!
  }
}

/** Beyond so many blurs from a side its step is over. */
const EDGE_REACH = 4.5
/** Entries to a unit: read linearly, the integral is right to 5e-7. */
const EDGE_STEPS = 256

const COUNT = 2 * EDGE_REACH * EDGE_STEPS + 2

/** The standard normal's integral and density from -4.5 to 4.5, entry i at i / 256 - 4.5: the fit looks up some hundred thousand of them. */
const EDGE_INTEGRAL: Float64Array = Float64Array.from({ length: COUNT }, (_, i) =>
  normalIntegral(i / EDGE_STEPS - EDGE_REACH),
)
const EDGE_DENSITY: Float64Array = Float64Array.from({ length: COUNT }, (_, i) =>
  normalDensity(i / EDGE_STEPS - EDGE_REACH),
)
