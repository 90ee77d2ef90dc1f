import { Matrix, solve } from 'ml-matrix'
import { composeHomographies, mapPoint, type Homography } from './homography.js'
import { levenbergMarquardt } from './levenbergMarquardt.js'
import { failure, success, type Outcome } from './outcome.js'
import type { Point } from './point.js'
import { fault } from '../sentences.js'
import { mathSays } from './sentences.js'

/** A homography through or near points. */
export interface HomographyFit {
  readonly homography: Homography
  /** Root mean square distance of the points from their images, units of `image`; 0 for four. */
  readonly rms: number
}

/**
 * The homography that takes `plane` to `image`, pairs of points in the same order, by the direct linear transform on
 * normalised points (Hartley, IEEE PAMI 19 (1997) 580): exact for four, for more refined by Levenberg-Marquardt to the
 * least squared distance in the image, every point alike.
 * Fails where three of four points are in line or the points determine no homography.
 * @throws `ProofwalkError` `bad-argument` for fewer than four pairs
 */
export function fitHomography(
  plane: readonly Point[],
  image: readonly Point[],
): Outcome<HomographyFit, 'not-determined' | 'not-finite'> {
  if (plane.length < 4 || plane.length !== image.length) {
    throw fault(mathSays['points-unpaired'](plane.length, image.length))
  }
  const from = normalisation(plane)
  const to = normalisation(image)
  if (from === null || to === null) {
    return failure(mathSays['points-not-finite']())
  }
  const plane1 = plane.map((point) => mapPoint(from.there, ...point))
  const image1 = image.map((point) => mapPoint(to.there, ...point))
  const direct = directLinear(plane1, image1)
  if (direct === null) return failure(mathSays['no-view-of-a-plane']())
  const refined = plane.length === 4 ? direct : refine(direct, plane1, image1)
  const homography = unitScale(composeHomographies(to.back, composeHomographies(refined, from.there)), plane)
  if (homography === null) return failure(mathSays['no-view-of-a-plane']())
  let squares = 0
  for (const [i, point] of plane.entries()) {
    const [x, y] = mapPoint(homography, ...point)
    squares += (x - image[i]![0]) ** 2 + (y - image[i]![1]) ** 2
  }
  const rms = plane.length === 4 ? 0 : Math.sqrt(squares / plane.length)
  return success({ homography, rms })
}

/** The similarity that brings the points' centroid to the origin and their mean distance from it to sqrt 2, and the way back. */
function normalisation(
  points: readonly Point[],
): { readonly there: Homography; readonly back: Homography } | null {
  const [x, y] = centroid(points)
  let mean = 0
  for (const point of points) mean += Math.hypot(point[0] - x, point[1] - y) / points.length
  if (!(mean > 0 && mean < Infinity)) return null
  const scale = Math.SQRT2 / mean
  return {
    there: Float64Array.of(scale, 0, -scale * x, 0, scale, -scale * y, 0, 0, 1),
    back: Float64Array.of(1 / scale, 0, x, 0, 1 / scale, y, 0, 0, 1),
  }
}

function centroid(points: readonly Point[]): Point {
  let middleX = 0
  let middleY = 0
  for (const [x, y] of points) {
    middleX += x / points.length
    middleY += y / points.length
  }
  return [middleX, middleY]
}

/**
 * Linear solution with h8 = 1, which in normalised points says that the centroid is not at infinity: true of every plane that is seen.
 * Null where the system is singular.
 */
function directLinear(plane: readonly Point[], image: readonly Point[]): Homography | null {
  const rows: number[][] = []
  const right: number[][] = []
  for (const [i, [x, y]] of plane.entries()) {
    const [u, v] = image[i]!
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y])
    right.push([u], [v])
  }
  try {
    const solution = solve(new Matrix(rows), new Matrix(right)).to1DArray()
    if (!solution.every((value) => Number.isFinite(value) && Math.abs(value) < 1e9)) return null
    return Float64Array.of(...solution, 1)
  } catch {
    return null
  }
}

function refine(start: Homography, plane: readonly Point[], image: readonly Point[]): Homography {
  const homographyOf = (parameters: Iterable<number>): Homography => Float64Array.of(...parameters, 1)
  const fit = levenbergMarquardt({
    start: [...start.subarray(0, 8)],
    residualCount: 2 * plane.length,
    residuals: (parameters, out) => {
      const h = homographyOf(parameters)
      for (const [i, point] of plane.entries()) {
        const [x, y] = mapPoint(h, ...point)
        out[2 * i] = x - image[i]![0]
        out[2 * i + 1] = y - image[i]![1]
      }
    },
  })
  return fit.ok ? homographyOf(fit.value.parameters) : start
}

/** Scaled so that w = 1 at the plane points' centroid; null where a point lies on or beyond the line at infinity. */
function unitScale(h: Homography, plane: readonly Point[]): Homography | null {
  const depth = ([x, y]: Point): number => h[6]! * x + h[7]! * y + h[8]!
  const middle = depth(centroid(plane))
  if (!plane.every((point) => depth(point) / middle > 0)) return null
  return h.map((value) => value / middle)
}
