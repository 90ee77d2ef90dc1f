import { FRAME, modulePx } from '../printed/chartGeometry.js'
import { meanBlur, modelMap } from './chartParameters.js'
import type { ChartScene } from './chartScene.js'
import { inverseHomography, mapPoint } from '../../math/homography.js'

/** The margin of paper above, to the right of, below and to the left of the frame, each true where it is not to be seen. */
export type TrimmedSides = readonly [boolean, boolean, boolean, boolean]

export const NONE_TRIMMED: TrimmedSides = [false, false, false, false]

// This project's conventions. The margin begins this far from the frame, modules and blurs;
const FREE_MODULES = 0.1
const FREE_BLURS = 0.3
/** it is not paper where so many of its pixels are outliers, or where they are off by this share of the contrast and by so many standard errors. */
const MOST_OUTLIERS = 0.1
const MOST_OFF = 0.06
const MOST_ERRORS = 5
/** or where they scatter by this share of it and by so many times the noise. */
const MOST_SPREAD = 0.04
const MOST_NOISES = 2
const LEAST_PIXELS = 8
const MOST_SIDES = 2
/** The half of the frame's bar that lies beside such a margin goes with it, modules. */
const BAR = 0.5

/** Which sides of a fitted chart's margin show something else than its paper: it was trimmed off, or fingers lie over it. */
export function trimmedSides(scene: ChartScene, parameters: Float64Array, contrastDn: number): TrimmedSides {
  const map = modelMap(parameters)
  const back = inverseHomography(map)
  if (back === null) return NONE_TRIMMED
  const free = FREE_MODULES + (FREE_BLURS * meanBlur(parameters)) / modulePx(map)
  const { x, y, count } = scene.pixels
  const [sums, squares, pixels, outliers] = [
    [0, 0, 0, 0],
    [0, 0, 0, 0],
    [0, 0, 0, 0],
    [0, 0, 0, 0],
  ]
  for (let at = 0; at < count; at += 1) {
    const [u, v] = mapPoint(back, x[at]!, y[at]!)
    const beyond = [FRAME.top - v, u - FRAME.right, v - FRAME.bottom, FRAME.left - u]
    for (let side = 0; side < 4; side += 1) {
      if (beyond[side]! < free) continue
      sums[side]! += scene.residuals[at]!
      squares[side]! += scene.residuals[at]! ** 2
      pixels[side]! += 1
      if (scene.weights[at] === 0) outliers[side]! += 1
    }
  }
  const isTrimmed = (side: number): boolean => {
    const n = pixels[side]!
    if (n < LEAST_PIXELS) return false
    const off = Math.abs(sums[side]! / n)
    const isOff = off > MOST_OFF * contrastDn && off > (MOST_ERRORS * scene.noiseDn) / Math.sqrt(n)
    const spread = Math.sqrt(squares[side]! / n)
    const isUneven = spread > MOST_SPREAD * contrastDn && spread > MOST_NOISES * scene.noiseDn
    return outliers[side]! > MOST_OUTLIERS * n || isOff || isUneven
  }
  const sides: TrimmedSides = [isTrimmed(0), isTrimmed(1), isTrimmed(2), isTrimmed(3)]
  // Where hardly a side looks like paper it is the light that does.
  return sides.filter(Boolean).length > MOST_SIDES ? NONE_TRIMMED : sides
}

/** Whether a place, modules, lies in such a margin or in the outer half of the frame beside it, whose edge it hides. */
export function isTrimmedAway([top, right, bottom, left]: TrimmedSides, u: number, v: number): boolean {
  return (
    (top && v < FRAME.top + BAR) ||
    (right && u > FRAME.right - BAR) ||
    (bottom && v > FRAME.bottom - BAR) ||
    (left && u < FRAME.left + BAR)
  )
}
