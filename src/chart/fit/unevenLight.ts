import { modulePx } from '../printed/chartGeometry.js'
import { modelMap } from './chartParameters.js'
import { type ChartScene, type NormalSums, emptySums } from './chartScene.js'
import { descendChart, type ChartDescent } from './descendChart.js'
import { modelCorrelation } from './outlierWeights.js'
import { readShades } from './shadeField.js'
import { weighScene } from './weighScene.js'

/** Over this correlation light is even enough; where it is less, it is read place by place, so many times, and kept where squares fall under this share. */
const EVEN_CORRELATION = 0.99
const SHADE_ROUNDS = 3
const LEAST_BETTER = 0.9
/**
 * Residuals side by side that hang together by this much are no noise; what denoising and codecs leave does no longer so by this share of it a module on, and at least so
 * many px (coded stills at night: up to 0.33 of it; shadows and lamps: from 0.6). More blocked pixels than this leave too little. This project's convention.
 */
const LEAST_ALIKE = 0.4
const LEAST_ALIKE_ON = 0.45
const LEAST_ON_PX = 3
const MOST_BLOCKED = 0.6
/** Whether a fit that has come to rest leaves residuals as light does that falls unevenly. */
export function lightIsUneven(scene: ChartScene, parameters: Float64Array): boolean {
  if (modelCorrelation(scene.pixels.code, scene.residuals, scene.weights) > EVEN_CORRELATION) return false
  const beside = alikeAt(scene, 1)
  const on = Math.max(LEAST_ON_PX, Math.round(modulePx(modelMap(parameters))))
  return beside > LEAST_ALIKE && alikeAt(scene, on) > LEAST_ALIKE_ON * beside
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

/** How much the residuals of pixels so many px apart, in a row or a column, are alike, from -1 to 1. */
function alikeAt({ pixels: { column, row, count }, residuals }: ChartScene, apartPx: number): number {
  const placeOf = (x: number, y: number): number => Math.floor(y) * 65536 + Math.floor(x)
  const there = new Map(Array.from({ length: count }, (_, at) => [placeOf(column[at]!, row[at]!), at]))
  let [products, squares] = [0, 0]
  for (let at = 0; at < count; at += 1)
    for (const place of [
      placeOf(column[at]! + apartPx, row[at]!),
      placeOf(column[at]!, row[at]! + apartPx),
    ]) {
      const other = there.get(place)
      if (other === undefined) continue
      products += residuals[at]! * residuals[other]!
      squares += (residuals[at]! ** 2 + residuals[other]! ** 2) / 2
    }
  return products / Math.max(1, squares)
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
