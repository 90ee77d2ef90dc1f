import { groupBy } from '../../math/groupBy.js'
import type { Problem } from '../../measure/stillMeasurement.js'
import { isPlaced, type PlacedStill, type Scene, type SceneStill } from '../../scene/scene.js'
import { problem } from '../../sentences.js'
import { scaleWords } from './sceneWords.js'
import { sceneSays } from './sentences.js'

/** The codes of stills that stand apart from their light by what their scene shows. */
export const SCENE_CODES: readonly string[] = ['another-view', 'enlarged-scene', 'cropped-still']

/** A scale surely off by more than this makes a still of another series: a fifth of what the best densities are known to. This project's convention. */
const SAME_SCALE = 0.002
/** A scale surely within this of another's speaks against a zoom: where less is known of it, it says nothing. This project's convention. */
const SURELY_SAME = 0.003
/** A still enlarged by so much, its middle so many px off, was cut out beside the middle: a zoom lens keeps its axis better. This project's convention. */
const CUT_SCALE = 1.05
const CUT_OFF_PX = 20

/** Whether a scene is surely larger or smaller than another by what matters for densities. */
export function isOtherScale({ scale, u }: Pick<PlacedStill, 'scale' | 'u'>): boolean {
  return Math.abs(Math.log(scale)) - u.scale / scale > SAME_SCALE
}

/** Whether a scene is surely as large as another, which a poorly known one never is. */
export function isSameScale({ scale, u }: Pick<PlacedStill, 'scale' | 'u'>): boolean {
  return Math.abs(Math.log(scale)) + u.scale / scale < SURELY_SAME
}

/**
 * Why stills do not count for what their scene shows, by file: another view, or the view at another scale. Where as many stills of a light show one as the other, none counts.
 */
export function sceneApart(
  scene: Scene | null,
  lightOf: (file: string) => string | undefined,
): ReadonlyMap<string, Problem> {
  const apart = new Map<string, Problem>()
  for (const [light, stills] of groupBy(scene?.stills ?? [], ({ file }) => lightOf(file))) {
    if (light === undefined) continue
    const placed = stills.filter(isPlaced)
    const elsewhere = stills.filter((still) => !isPlaced(still))
    if (largest(elsewhere) >= placed.length) setAll(apart, stills, problem(sceneSays['views-tie'](light)))
    else setAll(apart, elsewhere, problem(sceneSays['another-view'](light)))
    const other = placed.filter(isOtherScale)
    if (other.length === 0) continue
    if (2 * other.length >= placed.length)
      setAll(apart, placed, problem(sceneSays['scales-tie'](scaleWords(other[0]!), light)))
    else for (const still of other) apart.set(still.file, whyScaled(still, light))
  }
  return apart
}

function whyScaled(still: PlacedStill, light: string): Problem {
  const { scale, shift } = still
  const off = Math.hypot(shift.x, shift.y)
  const by = scaleWords(still)
  if (scale > CUT_SCALE && off > Math.max(CUT_OFF_PX, 3 * still.u.shift))
    return problem(sceneSays['cropped-still'](by, light, off.toFixed(0)))
  return problem(sceneSays['enlarged-scene'](by, scale > 1, light))
}

function largest(stills: readonly SceneStill[]): number {
  return Math.max(0, ...[...groupBy(stills, ({ group }) => group).values()].map(({ length }) => length))
}

function setAll(apart: Map<string, Problem>, stills: readonly SceneStill[], why: Problem): void {
  for (const { file } of stills) apart.set(file, why)
}
