import { isTurned } from '../../scene/toldMotion.js'
import { problem, type Said } from '../../sentences.js'
import { printedUncertainty } from '../../units/printedEstimate.js'
import { isOtherScale } from '../scene/sceneApart.js'
import { scaleWords, turnWords, withinWords } from '../scene/sceneWords.js'
import { underLights } from './changeWords.js'
import type { ComparedScene, ComparisonFinding } from './comparison.js'
import { compareSays } from './sentences.js'

/** The lights by how well they tell where the camera looks, the best first. */
export function bestFirst(scene: readonly ComparedScene[]): ComparedScene[] {
  return scene.toSorted((a, b) => a.u.shift - b.u.shift)
}

/** What a scene tells of a camera that turned or zoomed: by the light that tells it best, and by each other that tells otherwise. */
export function sceneChangeFindings(scene: readonly ComparedScene[]): ComparisonFinding[] {
  return scene
    .filter((one, index) => index === 0 || !isAlike(scene[0]!, one))
    .flatMap((one) => [...turnedFindings(one), ...scaledFindings(one)])
    .map((said) => ({ ...problem(said), weight: 'changed' }))
}

/** One sentence where nothing is found: within what the scene lies where it lay, or that it is not told. */
export function sceneLine(scene: readonly ComparedScene[]): string | null {
  const [best] = scene
  if (best === undefined) return compareSays['scene-untold']().message
  if (sceneChangeFindings(scene).length > 0) return null
  const scale = printedUncertainty(100 * (Math.abs(best.scale - 1) + best.u.scale))
  return compareSays['scene-same'](underLights([best.light]), withinWords([best]), scale).message
}

/** Whether two lights tell the same within what is known of both. */
function isAlike(one: ComparedScene, other: ComparedScene): boolean {
  const off = Math.hypot(one.shift.x - other.shift.x, one.shift.y - other.shift.y)
  const isOneScale = Math.abs(one.scale - other.scale) <= Math.hypot(one.u.scale, other.u.scale)
  return off <= Math.hypot(one.u.shift, other.u.shift) && isOneScale
}

function turnedFindings(one: ComparedScene): Said[] {
  if (!isTurned(one)) return []
  const says = compareSays[one.turn === null ? 'scene-shifted' : 'scene-turned']
  return [says(underLights([one.light]), turnWords(one))]
}

function scaledFindings(one: ComparedScene): Said[] {
  if (!isOtherScale(one)) return []
  return [compareSays['scene-scaled'](underLights([one.light]), scaleWords(one), one.scale > 1)]
}
