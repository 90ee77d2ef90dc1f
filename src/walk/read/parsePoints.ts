import { type Outcome, failure, success } from '../../math/outcome.js'
import type { Point } from '../../math/point.js'
import { readSays } from './sentences.js'

/**
 * Reads image points written as "x,y x,y ...", px, (0,0) the outer corner of the top-left pixel. The whole text is read; exactly `count`
 * points must come.
 */
export function parsePoints(text: string, count: number): Outcome<Point[], 'bad-points'> {
  const words = text.trim().split(/\s+/)
  const points: Point[] = []
  for (const word of words) {
    const match = /^(-?\d+(?:\.\d+)?),(-?\d+(?:\.\d+)?)$/.exec(word)
    if (match === null) return failure(readSays['no-point'](word))
    const point: Point = [Number(match[1]), Number(match[2])]
    if (!point.every(Number.isFinite)) return failure(readSays['point-too-far'](word))
    points.push(point)
  }
  if (points.length !== count) return failure(readSays['points-missing'](points.length, count))
  return success(points)
}
