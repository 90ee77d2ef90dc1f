import type { ChartTemplate, TemplateSet, TemplateSolver } from './template.js'
import type { Quad } from '../../math/point.js'
import { codeFromLinear, codeSlope } from '../../math/srgb.js'
import { blurredArea, inwardSides, type BlurredValue } from './blurredArea.js'
import { templateSolver } from './templateSolver.js'
import {
  chartAreas,
  chartFace,
  FACES,
  FIELD,
  LETTERED_EDGE,
  type ChartArea,
} from '../printed/chartGeometry.js'

// Ink and paper in linear light as a camera may show them; only the shape of the curve between them matters. This project's convention.
const INK_LIGHT = 0.05
const PAPER_LIGHT = 0.8

/**
 * Templates blurred by a Gaussian of `sigmaModules`, sampled every `stepModules` over the field without its lettered edge, where blur
 * would mix in what lies behind the sheet. `sigmaDownModules`: the blur across level edges where it is another, as on a turned chart.
 */
export function chartTemplates(
  sigmaModules: number,
  stepModules: number,
  sigmaDownModules = sigmaModules,
): TemplateSet {
  const columns = Math.round((FIELD.width - 2 * LETTERED_EDGE) / stepModules) + 1
  const rows = Math.round((FIELD.height - 2 * LETTERED_EDGE) / stepModules) + 1
  const count = columns * rows
  const x = new Float64Array(count)
  const y = new Float64Array(count)
  for (let at = 0; at < count; at += 1) {
    x[at] = LETTERED_EDGE + ((at % columns) * (FIELD.width - 2 * LETTERED_EDGE)) / (columns - 1)
    y[at] = LETTERED_EDGE + (Math.floor(at / columns) * (FIELD.height - 2 * LETTERED_EDGE)) / (rows - 1)
  }
  const everySample = new Uint8Array(count).fill(1)
  const drawn = new Map<string, Float64Array>()
  const draw = (area: ChartArea): Float64Array => {
    const key = JSON.stringify(area.corners)
    const known = drawn.get(key)
    if (known !== undefined) return known
    const plane = new Float64Array(3 * count)
    // Stretched so that both blurs are one.
    const stretch = sigmaModules / sigmaDownModules
    const sides = inwardSides(area.corners.map(([u, v]) => [u, v * stretch] as const) as unknown as Quad)
    const point: BlurredValue = { value: 0, slopeX: 0, slopeY: 0 }
    for (let at = 0; at < count; at += 1) {
      blurredArea(sides, sigmaModules, x[at]!, y[at]! * stretch, point)
      plane[3 * at] = point.value
      plane[3 * at + 1] = point.slopeX
      plane[3 * at + 2] = point.slopeY * stretch
    }
    drawn.set(key, plane)
    return plane
  }
  const compose = (parts: readonly ChartArea[], share: number): ChartTemplate => {
    const value = new Float64Array(count)
    const slopeX = new Float64Array(count)
    const slopeY = new Float64Array(count)
    for (const area of parts) {
      const plane = draw(area)
      const weight = area.weight * share
      for (let at = 0; at < count; at += 1) {
        value[at]! -= weight * plane[3 * at]!
        slopeX[at]! -= weight * plane[3 * at + 1]!
        slopeY[at]! -= weight * plane[3 * at + 2]!
      }
    }
    let [sum, squares] = [0, 0]
    for (let at = 0; at < count; at += 1) {
      const light = Math.min(1, Math.max(0, 1 + value[at]!))
      const [code, slope] = codeOf(light)
      value[at] = code
      sum += code
      squares += code * code
      slopeX[at]! *= slope
      slopeY[at]! *= slope
    }
    const points = { count, x, y, value, slopeX, slopeY }
    const solvers: (TemplateSolver | undefined)[] = []
    return {
      ...points,
      sum,
      squares,
      columns,
      rows,
      blurAcross: sigmaModules,
      blurDown: sigmaDownModules,
      everySample,
      solver: (affine) => (solvers[affine ? 1 : 0] ??= templateSolver(points, affine)),
    }
  }
  const faces: (ChartTemplate | undefined)[] = []
  const everyFace = Array.from({ length: FACES }, (_, face) => chartAreas(chartFace(face))).flat()
  return {
    sigmaModules,
    common: compose(everyFace, 1 / FACES),
    face: (face) => (faces[face] ??= compose(chartAreas(chartFace(face)), 1)),
  }
}

/** Code value (0 ink, 1 paper) and its slope for a share of light between ink and paper. */
function codeOf(share: number): readonly [number, number] {
  const low = codeFromLinear(INK_LIGHT)
  const range = codeFromLinear(PAPER_LIGHT) - low
  const light = INK_LIGHT + share * (PAPER_LIGHT - INK_LIGHT)
  const code = codeFromLinear(light)
  return [(code - low) / range, (codeSlope(light, code) * (PAPER_LIGHT - INK_LIGHT)) / range]
}
