import { codeFromLinear } from '../../math/srgb.js'
import { INK, meanBlur, PAPER } from './chartParameters.js'
import type { ChartScene } from './chartScene.js'
import { growCover } from './coverReach.js'
import { areSameWeights, weighResiduals } from './outlierWeights.js'

/** A noise that changes by less needs no new look. */
const SAME_NOISE = 0.1
/** What lies over the chart is blurred into it so far beyond where it stands out. */
const COVER_BLURS = 2
const COVER_PX = 1

/** Weighs a scene's pixels by their residuals, and takes the camera's noise from them; true where that changes what is to be fitted. */
export function weighScene(scene: ChartScene, parameters: Float64Array): boolean {
  const before = scene.weights.slice()
  const deviation = weighResiduals(scene.residuals, scene.weights, contrastDn(parameters))
  growCover(scene.pixels, scene.weights, COVER_BLURS * meanBlur(parameters) + COVER_PX)
  for (let at = 0; at < before.length; at += 1)
    if (scene.blocked[at] === 1 || scene.trimmed[at] === 1) scene.weights[at] = 0
  const noiseDn = Math.max(0.5, deviation)
  const same = areSameWeights(before, scene.weights) && Math.abs(noiseDn / scene.noiseDn - 1) < SAME_NOISE
  scene.noiseDn = noiseDn
  scene.noiseVariance = Math.max(0.1, deviation ** 2)
  return !same
}

/** Code values between ink and paper, as fitted. */
export function contrastDn(parameters: Float64Array): number {
  return codeFromLinear(Math.min(1, parameters[PAPER]!)) - codeFromLinear(Math.min(1, parameters[INK]!))
}
