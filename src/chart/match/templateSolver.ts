import type { TemplateSolver, ChartTemplate } from './template.js'
import { choleskyInverse } from '../../math/cholesky.js'
import { FIELD } from '../printed/chartGeometry.js'

const centreX = FIELD.width / 2
const centreY = FIELD.height / 2
/** Modules to the refinement's own unit: half the frame's width, for conditioning. */
const SCALE = 5.8
/** Maps of the chart's plane, modules, to the refinement's unit and back. */
export const TO_UNIT = Float64Array.of(
  1 / SCALE,
  0,
  -centreX / SCALE,
  0,
  1 / SCALE,
  -centreY / SCALE,
  0,
  0,
  1,
)
export const FROM_UNIT = Float64Array.of(SCALE, 0, centreX, 0, SCALE, centreY, 0, 0, 1)

/** Sets up the equations of a template, of an affine or a projective increment (S. Baker and I. Matthews, Int. J. Computer Vision 56 (2004) 221). */
export function templateSolver(
  template: Pick<ChartTemplate, 'count' | 'x' | 'y' | 'value' | 'slopeX' | 'slopeY'>,
  affine: boolean,
): TemplateSolver {
  const { count } = template
  const unknowns = affine ? 8 : 10
  const design = new Float64Array(count * unknowns)
  for (let at = 0; at < count; at += 1) {
    const x = (template.x[at]! - centreX) / SCALE
    const y = (template.y[at]! - centreY) / SCALE
    const gx = template.slopeX[at]! * SCALE
    const gy = template.slopeY[at]! * SCALE
    const along = gx * x + gy * y
    const row = [gx * x, gx * y, gx, gy * x, gy * y, gy]
    if (!affine) row.push(-along * x, -along * y)
    row.push(template.value[at]!, 1)
    design.set(row, at * unknowns)
  }
  const matrix = new Float64Array(unknowns * unknowns)
  for (let at = 0; at < count; at += 1)
    for (let i = 0; i < unknowns; i += 1)
      for (let j = 0; j < unknowns; j += 1)
        matrix[i * unknowns + j]! += design[at * unknowns + i]! * design[at * unknowns + j]!
  const inverse = choleskyInverse(matrix, unknowns)
  if (inverse === null) return { unknowns, design, projection: null }
  const projection = new Float64Array(count * unknowns)
  for (let at = 0; at < count; at += 1)
    for (let i = 0; i < unknowns; i += 1) {
      let sum = 0
      for (let j = 0; j < unknowns; j += 1) sum += inverse[i * unknowns + j]! * design[at * unknowns + j]!
      projection[at * unknowns + i] = sum
    }
  return { unknowns, design, projection }
}
