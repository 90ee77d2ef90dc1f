import { ChartModel } from '../src/chart/fit/chartModel.js'
import { BLUR_X, BLUR_Y, INK, MODEL_PARAMETERS, PAPER, SURROUND } from '../src/chart/fit/chartParameters.js'
import { ChartScene } from '../src/chart/fit/chartScene.js'
import { FIELD, FRAME, LETTERED_EDGE } from '../src/chart/printed/chartGeometry.js'
import { choleskyInverse } from '../src/math/cholesky.js'
import { boxTo, inverseHomography } from '../src/math/homography.js'
import type { Point, Quad } from '../src/math/point.js'
import { centreJacobian } from '../src/measure/pose/cornerDensity.js'

/** What a chart's still was taken with. */
export interface BoundScene {
  readonly face: number
  readonly corners: Quad
  /** Gaussian blur without the pixel's aperture, px. */
  readonly blurSigmaPx: number
  /** Linear light of paper and ink. */
  readonly paper: number
  readonly ink: number
  readonly noiseDn: number
  readonly widthM: number
  readonly heightM: number
}

/**
 * Cramer-Rao bound of the density along both axes, relative: white Gaussian noise on every pixel of the chart's field, the modelled chart at the
 * truth with all its parameters unknown (the surround's light known), its Fisher information by differences of the predicted code values,
 * not by the fit's own derivatives.
 */
export function densityBound(scene: BoundScene): { readonly horizontal: number; readonly vertical: number } {
  const truth = new Float64Array(MODEL_PARAMETERS)
  scene.corners.forEach((corner, k) => truth.set(corner, 2 * k))
  truth[BLUR_X] = truth[BLUR_Y] = Math.sqrt(scene.blurSigmaPx ** 2 + 1 / 12)
  truth[PAPER] = scene.paper
  truth[INK] = scene.ink
  const back = inverseHomography(boxTo(FRAME, scene.corners))!
  const [xs, ys]: [number[], number[]] = [[], []]
  const reach = (axis: 0 | 1): readonly [number, number] => {
    const at = scene.corners.map((corner) => corner[axis])
    const size = Math.max(...at) - Math.min(...at)
    return [Math.floor(Math.min(...at) - size / 4), Math.ceil(Math.max(...at) + size / 4)]
  }
  const [left, right] = reach(0)
  const [top, bottom] = reach(1)
  for (let j = top; j < bottom; j += 1)
    for (let i = left; i < right; i += 1) {
      const w = back[6]! * (i + 0.5) + back[7]! * (j + 0.5) + back[8]!
      const u = (back[0]! * (i + 0.5) + back[1]! * (j + 0.5) + back[2]!) / w
      const v = (back[3]! * (i + 0.5) + back[4]! * (j + 0.5) + back[5]!) / w
      const free = LETTERED_EDGE
      if (u < free || v < free || u > FIELD.width - free || v > FIELD.height - free) continue
      xs.push(i + 0.5)
      ys.push(j + 0.5)
    }
  const [x, y] = [Float64Array.from(xs), Float64Array.from(ys)]
  const model = new ChartModel(scene.face)
  const pixels = {
    x,
    y,
    column: x,
    row: y,
    code: new Float64Array(x.length),
    count: x.length,
    first: x.length,
  }
  const chart = new ChartScene(model, new ChartModel(scene.face), pixels, truth)
  const codes = (parameters: Float64Array): Float64Array => {
    model.set(parameters, false)
    return Float64Array.from(x, (_, at) => chart.codeOfInk(parameters, at, model.ink(x[at]!, y[at]!, null)))
  }
  const p = SURROUND
  const slopes = Array.from({ length: p }, (_, k) => {
    const step = k < 8 || k === BLUR_X || k === BLUR_Y ? 0.02 : 0.002
    const [above, below] = [truth.slice(), truth.slice()]
    above[k]! += step
    below[k]! -= step
    const [high, low] = [codes(above), codes(below)]
    return high.map((value, at) => (value - low[at]!) / (2 * step))
  })
  const information = new Float64Array(p * p)
  for (let i = 0; i < p; i += 1)
    for (let j = 0; j < p; j += 1) {
      let sum = 0
      for (let at = 0; at < x.length; at += 1) sum += slopes[i]![at]! * slopes[j]![at]!
      information[i * p + j] = sum / scene.noiseDn ** 2
    }
  const bound = choleskyInverse(information, p)!
  const gradients = Array.from({ length: 8 }, (_, k) => {
    const moved = (by: number) =>
      cornerDensity(
        scene.corners.map(([cx, cy], at): [number, number] => [
          2 * at === k ? cx + by : cx,
          2 * at + 1 === k ? cy + by : cy,
        ]) as unknown as Quad,
        scene.widthM,
        scene.heightM,
      )!
    const [above, below] = [moved(1e-3), moved(-1e-3)]
    return {
      horizontal: (above.horizontal - below.horizontal) / 2e-3,
      vertical: (above.vertical - below.vertical) / 2e-3,
    }
  })
  const here = cornerDensity(scene.corners as unknown as [number, number][], scene.widthM, scene.heightM)!
  const deviation = (axis: 'horizontal' | 'vertical'): number => {
    let variance = 0
    for (let i = 0; i < 8; i += 1)
      for (let j = 0; j < 8; j += 1) variance += gradients[i]![axis] * gradients[j]![axis] * bound[i * p + j]!
    return Math.sqrt(variance) / here[axis]
  }
  return { horizontal: deviation('horizontal'), vertical: deviation('vertical') }
}

/** Density along both axes at the rectangle's centre; null where the corners are no view of a rectangle. */
function cornerDensity(
  corners: readonly Point[],
  widthM: number,
  heightM: number,
): { horizontal: number; vertical: number } | null {
  const jacobian = centreJacobian(corners, widthM, heightM)
  if (jacobian === null) return null
  return { horizontal: Math.hypot(...jacobian.alongX), vertical: Math.hypot(...jacobian.alongY) }
}
