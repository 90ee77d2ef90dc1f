import { type ChartScene, type NormalSums, emptySums } from './chartScene.js'
import { descendChart, type ChartDescent } from './descendChart.js'
import { modelCorrelation } from './outlierWeights.js'
import { readShades } from './shadeField.js'
import { weighScene } from './weighScene.js'

/** Over this correlation light is even enough; where it is less, it is read place by place, so many times, and kept where squares fall under this share. */
const EVEN_CORRELATION = 0.99
const SHADE_ROUNDS = 3
const LEAST_BETTER = 0.9
/** Residuals side by side that hang together by this much are no noise; more blocked pixels than this leave too little. This project's convention. */
const LEAST_ALIKE = 0.4
const MOST_BLOCKED = 0.6
/** Whether a fit that has come to rest leaves residuals as light does that falls unevenly. */
export function lightIsUneven(scene: ChartScene): boolean {
  const even = modelCorrelation(scene.pixels.code, scene.residuals, scene.weights) > EVEN_CORRELATION
  return !even && hangTogether(scene)
}

/**
 * Goes on with light read place by place where that explains the picture much better: half a shadow, a lamp's spot. Null where it does not,
 * everything being as before.
 */
export function underUnevenLight(
  scene: ChartScene,
  descent: ChartDescent,
  limits: { readonly settledPx: number; readonly mostSteps: number },
): { readonly sums: NormalSums } | null {
  const even = {
    parameters: descent.parameters.slice(),
    weights: scene.weights.slice(),
    noiseDn: scene.noiseDn,
    noiseVariance: scene.noiseVariance,
    squares: meanSquare(scene),
  }
  let last: ReturnType<typeof descendChart> | null = null
  for (let round = 0; round < SHADE_ROUNDS; round += 1) {
    if (!readShades(scene, descent.parameters)) break
    scene.look(descent.parameters, emptySums())
    weighScene(scene, descent.parameters)
    last = descendChart(scene, { ...descent, steps: 0 }, limits)
    if (last.end !== 'there') break
  }
  if (
    last?.end === 'there' &&
    meanSquare(scene) < LEAST_BETTER * even.squares &&
    blockedShare(scene) < MOST_BLOCKED
  )
    return last
  descent.parameters.set(even.parameters)
  scene.shades.fill(1)
  scene.blocked.fill(0)
  scene.weights.set(even.weights)
  scene.noiseDn = even.noiseDn
  scene.noiseVariance = even.noiseVariance
  scene.look(descent.parameters, emptySums())
  return null
}

/** Whether residuals side by side are alike, as where light falls unevenly, and not as in noise. */
function hangTogether({ pixels: { column: x, row: y, count }, residuals }: ChartScene): boolean {
  let [products, squares] = [0, 0]
  for (let at = 1; at < count; at += 1) {
    if (y[at] !== y[at - 1] || x[at] !== x[at - 1]! + 1) continue
    products += residuals[at]! * residuals[at - 1]!
    squares += (residuals[at]! ** 2 + residuals[at - 1]! ** 2) / 2
  }
  return products > LEAST_ALIKE * squares
}

/** Share of the pixels that are left out because the light there is not known. */
function blockedShare({ blocked, pixels }: ChartScene): number {
  return blocked.reduce((sum, one) => sum + one, 0) / pixels.count
}

/** Mean square of the residuals but for blocked ones, outliers too. */
function meanSquare({ residuals, blocked }: ChartScene): number {
  const open = residuals.filter((_, at) => blocked[at] === 0)
  return open.reduce((sum, value) => sum + value ** 2, 0) / Math.max(1, open.length)
}
