import type { Estimate } from '../../math/interval.js'
import type { ReadingScore } from '../../trial/scoreTrial.js'
import { elementM, type Grading } from '../gradings/grading.js'
import type { JudgedStill, MarkResult } from '../judgement.js'
import { power } from '../../math/power.js'

/** What was measured where a walk's readers reached 95 %: px/m, px/m with detail, cycles per metre, and k; null where that is not known. */
export interface ReadingReached {
  readonly density: Estimate | null
  readonly effectiveDensity: Estimate | null
  readonly resolved: Estimate | null
  readonly k: Estimate | null
}

/** Strokes of published characters, metres: SI 2001/561. */
const STROKE_M = 0.014

/**
 * Density, detail and contrast at the distance to which 95 % are read, with the interval that the distance has: between marks evenly in logarithms, beyond them as at the
 * last. k is that of the element nearest in size to a stroke of 14 mm. Null where that distance is not known.
 */
export function readingReached(
  { light, reference, read95 }: Pick<ReadingScore, 'light' | 'reference' | 'read95'>,
  marks: readonly MarkResult[],
  stills: readonly JudgedStill[],
  { grades }: Grading,
): ReadingReached | null {
  if (read95 === null) return null
  const own = marks.filter((mark) => mark.light === light && mark.reference === reference && !mark.leftOut)
  const off = (grade: Grading['grades'][number]): number => Math.abs(Math.log(elementM(grade) / STROKE_M))
  const [element] = grades.toSorted((one, other) => off(one) - off(other))
  const kAt = ({ distance }: MarkResult): number | null => {
    const told = stills.flatMap((still) =>
      still.light === light && still.reference === reference && still.distanceM === distance
        ? (still.measurement.tone?.roseK[element!.id]?.k ?? [])
        : [],
    )
    return told.length === 0 ? null : told.reduce((sum, k) => sum + k, 0) / told.length
  }
  const figureOf = (of: (mark: MarkResult) => number | null): Estimate | null => {
    const places = own.flatMap((mark): Place[] => {
      const value = of(mark)
      return value !== null && value > 0 ? [[mark.distance, value]] : []
    })
    if (places.length === 0) return null
    const { distance, low, high } = read95
    const [value, far, near] = [distance, high, low].map((each) => between(places, each))
    return { value: value!, low: Math.min(far!, near!, value!), high: Math.max(far!, near!, value!) }
  }
  return {
    density: figureOf(({ density }) => density.value),
    effectiveDensity: figureOf(({ effectiveDensity }) => effectiveDensity?.value ?? null),
    resolved: figureOf(({ resolved }) => resolved?.value ?? null),
    k: figureOf(kAt),
  }
}

type Place = readonly [distanceM: number, value: number]

function between(places: readonly Place[], distanceM: number): number {
  const beyond = places.findIndex(([placeM]) => placeM >= distanceM)
  if (beyond <= 0) return places.at(beyond)![1]
  const [[nearM, near], [farM, far]] = [places[beyond - 1]!, places[beyond]!]
  const share = Math.log(distanceM / nearM) / Math.log(farM / nearM)
  return near * power(far / near, share)
}
