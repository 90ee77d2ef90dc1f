import type { RectangleReference } from '../../src/measure/reference/reference.js'

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

/** A plate of 520 x 111 mm with characters. */
export const PLATE: RectangleReference = {
  kind: 'rectangle',
  name: 'plate',
  widthM: 0.52,
  heightM: 0.111,
  widthToleranceM: 0.002,
  heightToleranceM: 0.002,
  marking: 'characters',
}
