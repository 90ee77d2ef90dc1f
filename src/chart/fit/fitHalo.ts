import { choleskyInverse } from '../../math/cholesky.js'
import { normalIntegral } from '../../math/normalIntegral.js'
import { BLUR_X, BLUR_Y, HALO, meanBlur, MODEL_PARAMETERS } from './chartParameters.js'
import { emptySums, type ChartScene, type NormalSums } from './chartScene.js'
import { descendChart, type ChartDescent } from './descendChart.js'

/** The halo a sharpening left around the edges. */
export interface FittedHalo {
  /** How far an edge swings beyond its levels, share of the step in code values. */
  readonly overshoot: number
  /** Half the spread of the blur beneath over the radii that explain the picture as well, px. */
  readonly blurSpreadPx: number
}

/**
 * A halo is looked for where it would be this many standard deviations off none and at least so large: JPEG of quality 88 makes up to 0.1 of a sharp
 * edge, an unsharp mask of 0.3 at least 0.2 (simulated by day). This project's convention.
 */
const LEAST_DEVIATIONS = 4.5
const LEAST_HALO = 0.15
/** Radii tried, px; the first one is the one that is tested with. */
const RADII_PX = [1, 0.6, 1.6, 2.5]
/** Another radius explains the picture as well where its squares are within this share of the best one's. */
const AS_GOOD = 0.01

/**
 * Looks for the halo of a sharpening in a fit that has come to rest, and goes on with it where there is one: `descent` then holds the blur
 * beneath it. One look tells what the halo would be, to first order; only where that stands out is it fitted, at several radii. Null where there
 * is none; `sums` are then as they were.
 */
export function fitHalo(
  scene: ChartScene,
  descent: ChartDescent,
  mostSteps: number,
): { readonly halo: FittedHalo; readonly sums: NormalSums } | null {
  const plain = descent.parameters.slice()
  scene.haloRadiusPx = RADII_PX[0]!
  if (!standsOut(scene, plain)) {
    scene.haloRadiusPx = 0
    return null
  }
  let best: { sums: NormalSums; parameters: Float64Array; radius: number } | null = null
  const tried: { sum: number; blur: number }[] = []
  for (const radius of RADII_PX) {
    scene.haloRadiusPx = radius
    const next: ChartDescent = { parameters: plain.slice(), damping: 1e-3, steps: 0 }
    const { end, sums } = descendChart(scene, next, { settledPx: 5e-3, mostSteps })
    if (end !== 'there' || next.parameters[HALO]! <= 0) continue
    tried.push({ sum: sums.sum, blur: meanBlur(next.parameters) })
    if (best === null || sums.sum < best.sums.sum) best = { sums, parameters: next.parameters, radius }
  }
  if (best === null) {
    scene.haloRadiusPx = 0
    scene.look(plain, emptySums())
    return null
  }
  scene.haloRadiusPx = best.radius
  descent.parameters.set(best.parameters)
  // The residuals are those of the last look.
  scene.look(best.parameters, best.sums)
  const asGood = tried.filter(({ sum }) => sum <= (1 + AS_GOOD) * best.sums.sum).map(({ blur }) => blur)
  return {
    halo: {
      overshoot: overshootOf(best.parameters, best.radius),
      blurSpreadPx: (Math.max(...asGood) - Math.min(...asGood)) / 2,
    },
    sums: best.sums,
  }
}

function standsOut(scene: ChartScene, parameters: Float64Array): boolean {
  const p = MODEL_PARAMETERS
  const matrix = new Float64Array(p * p)
  const sums: NormalSums = { sum: 0, matrix, right: new Float64Array(p) }
  scene.look(parameters, sums)
  const inverse = choleskyInverse(matrix, p)
  if (inverse === null) return false
  let halo = 0
  for (let k = 0; k < p; k += 1) halo += inverse[HALO * p + k]! * sums.right[k]!
  const variance = sums.sum / Math.max(1, scene.pixels.count - p)
  return halo > LEAST_HALO && halo > LEAST_DEVIATIONS * Math.sqrt(inverse[HALO * p + HALO]! * variance)
}

/** The swing of halo x (G(b) - G(hypot(b, r))) beyond its level, G the step blurred. */
function overshootOf(parameters: Float64Array, radius: number): number {
  let most = 0
  for (const k of [BLUR_X, BLUR_Y]) {
    const blur = parameters[k]!
    const soft = Math.hypot(blur, radius)
    for (let at = 0; at < 4 * soft; at += 0.05) {
      const [sharp, spread] = [normalIntegral(at / blur), normalIntegral(at / soft)]
      most = Math.max(most, sharp + parameters[HALO]! * (sharp - spread) - 1)
    }
  }
  return most
}
