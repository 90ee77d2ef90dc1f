import type { RectangleReference } from '../../src/measure/reference.js'

/** A plain board of 600 x 400 mm. */
export const BOARD: RectangleReference = {
  kind: 'rectangle',
  name: 'board',
  widthM: 0.6,
  heightM: 0.4,
  widthToleranceM: 0.001,
  heightToleranceM: 0.001,
  marking: 'plain',
}
