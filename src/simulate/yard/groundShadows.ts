import type { DemoLight } from './demoLight.js'
import type { SceneBody } from './sceneBody.js'
import { unit, type WorldVector } from '../camera/worldVector.js'

const LEFT_M = -14
const NEAR_M = 1
const COLUMNS = 560
const ROWS = 480
const CELL_M = 0.05

/**
 * How much of the sun or lamp the bodies keep from the level yard, 0..1: cast on a grid of 5 cm and read bilinearly. Zero
 * outside the grid and for a light that casts no shadow the camera sees.
 */
export function groundShadows(
  light: DemoLight,
  bodies: readonly SceneBody[],
): (x: number, y: number) => number {
  const { source } = light
  if (source === null) return () => 0
  const grid = new Uint8Array(COLUMNS * ROWS)
  for (let row = 0; row < ROWS; row += 1) {
    for (let column = 0; column < COLUMNS; column += 1) {
      const at: WorldVector = [LEFT_M + (column + 0.5) * CELL_M, NEAR_M + (row + 0.5) * CELL_M, 0.002]
      grid[row * COLUMNS + column] = isShadowed(at, source, bodies) ? 1 : 0
    }
  }
  const cell = (column: number, row: number): number =>
    column < 0 || row < 0 || column >= COLUMNS || row >= ROWS ? 0 : grid[row * COLUMNS + column]!
  return (x, y) => {
    const [u, v] = [(x - LEFT_M) / CELL_M - 0.5, (y - NEAR_M) / CELL_M - 0.5]
    const [column, row] = [Math.floor(u), Math.floor(v)]
    const [s, t] = [u - column, v - row]
    return (
      (cell(column, row) * (1 - s) + cell(column + 1, row) * s) * (1 - t) +
      (cell(column, row + 1) * (1 - s) + cell(column + 1, row + 1) * s) * t
    )
  }
}

function isShadowed(
  at: WorldVector,
  source: { readonly kind: 'far' | 'near'; readonly at: WorldVector },
  bodies: readonly SceneBody[],
): boolean {
  const towards: WorldVector =
    source.kind === 'far' ? source.at : [source.at[0] - at[0], source.at[1] - at[1], source.at[2] - at[2]]
  const reach = source.kind === 'far' ? Infinity : Math.hypot(...towards) - 0.3
  const direction = unit(towards)
  return bodies.some((body) => body.low[2] > -0.3 && body.hit(at, direction) < reach)
}
