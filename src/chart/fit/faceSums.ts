import { FACES } from '../printed/chartGeometry.js'
import { ChartModel } from './chartModel.js'
import type { ChartScene } from './chartScene.js'

/**
 * Sum of squared residuals with each face 0..7 at the parameters of a fit with `face`. A face is three choices (left slab, right slab, strip),
 * so two looks, at the face and at its contrary, tell all eight.
 */
export function faceSums(scene: ChartScene, face: number, parameters: Float64Array): number[] {
  const { x, y, code, count } = scene.pixels
  const own = new ChartModel(face)
  const contrary = new ChartModel(FACES - 1 - face)
  own.set(parameters, false)
  contrary.set(parameters, false)
  const [here, there] = [new Float64Array(4), new Float64Array(4)]
  const sums = new Array<number>(FACES).fill(0)
  for (let at = 0; at < count; at += 1) {
    if (scene.weights[at] === 0) continue
    own.partInk(x[at]!, y[at]!, here)
    contrary.partInk(x[at]!, y[at]!, there)
    const same = Math.max(...[1, 2, 3].map((part) => Math.abs(here[part]! - there[part]!))) < 1e-3
    if (same) continue
    for (let other = 0; other < FACES; other += 1) {
      let ink = here[0]!
      for (let part = 1; part <= 3; part += 1)
        ink += (((other ^ face) >> (part - 1)) & 1) === 0 ? here[part]! : there[part]!
      const residual = code[at]! - scene.codeOfInk(parameters, at, ink)
      sums[other]! += residual ** 2 - scene.residuals[at]! ** 2
    }
  }
  let base = 0
  for (let at = 0; at < count; at += 1) if (scene.weights[at] !== 0) base += scene.residuals[at]! ** 2
  return sums.map((sum) => base + sum)
}
