import { START_PRIOR_M } from '../range/fitConstant.js'
import { type FitGiven, fitRange, fittedMarks, type RangeConditions } from '../range/fitRange.js'
import type { FittedMark, RangeFit } from '../range/rangeFit.js'
import type { Series } from '../range/series.js'
import { lendConstants } from './lendConstants.js'
import { type Finding, hearCourt, type NamedCause } from './hearCourt.js'

/** A walk's series, each with its fit, and the causes found behind what does not agree, each with those it cannot be told from. */
export interface FittedWalk {
  readonly series: readonly Series[]
  readonly found: readonly Finding[]
}

/** Where a tape begins once it is shown to begin elsewhere, metres, one standard deviation: as good as unknown. This project's convention. */
const FREE_START_M = 10

/**
 * Fits the constant of every light and reference of a walk (marks combined, ascending) together with what its court of causes found: the cause is freed, a mark that is
 * blamed alone is left out, and where causes cannot be told apart each fit carries the others'. Where nothing is found, a light may lend another its constant. No fit where a series has no mark.
 */
export function fitWalk(all: readonly Omit<Series, 'fit'>[], conditions: RangeConditions): FittedWalk {
  const fitted = all.map(({ marks }) => fittedMarks(marks, conditions))
  const found = hearCourt(fitted.flat(), conditions.lensKnown, conditions.scene)
  const series = all.map((each, i): Series => {
    const marks = fitted[i]!
    const among = all.filter(({ light }, other) => light === each.light && fitted[other]!.length > 0).length
    return { ...each, fit: marks.length === 0 ? null : fitBy(found, marks, among, conditions) }
  })
  return { series: found.length > 0 ? series : lendConstants(series, conditions.scene?.alike ?? []), found }
}

function fitBy(
  found: readonly Finding[],
  marks: readonly FittedMark[],
  among: number,
  conditions: RangeConditions,
): RangeFit {
  const plain = { marks, startPriorM: START_PRIOR_M, roughness: 1, logShift: 0, suspect: null, among }
  let ways: readonly FitGiven[] = [plain]
  const otherwiseBy: string[] = []
  for (const causes of found) {
    const before = ways.length
    ways = causes.flatMap((cause) => ways.flatMap((way) => freedIn(way, cause, causes.length === 1)))
    if (ways.length > before) otherwiseBy.push(...causes.map(({ kind }) => kind))
  }
  const [main, ...others] = distinctWays(ways).map((way) => fitRange(way, conditions))
  return { ...main!, otherwise: others, otherwiseBy: [...new Set(otherwiseBy)] }
}

/** A fit where a cause is freed: several ways where the cause leaves open which side is right. */
function freedIn(way: FitGiven, cause: NamedCause, isAlone: boolean): FitGiven[] {
  const { kind, size, u } = cause
  const touched = way.marks.filter(cause.touches)
  const rest = way.marks.filter((mark) => !cause.touches(mark))
  const shifted = (sign: number): FitGiven[] =>
    [size - 2 * u, size + 2 * u].map((by) => ({ ...way, logShift: way.logShift + sign * by }))
  if (kind === 'rougher') return [{ ...way, roughness: way.roughness * size }]
  if (kind === 'size') return [way, ...shifted(touched.length > 0 ? -1 : 1)]
  if (touched.length === 0) return [way]
  if (kind === 'start' || kind === 'moved') return [{ ...way, startPriorM: FREE_START_M }]
  if (kind === 'aspect') {
    const signs = [...new Set(touched.map(({ used }) => (used === 'horizontal' ? -1 : 1)))]
    return [way, ...signs.flatMap(shifted)]
  }
  if (rest.length === 0 || kind === 'zoomed') return [way]
  if (kind === 'scaled')
    return [
      { ...way, marks: rest },
      { ...way, marks: touched },
    ]
  const [blamed] = touched
  // So much denser is so much nearer.
  const at = (by: number): number => blamed!.point.distanceM * Math.exp(-by)
  const fitsM = { value: at(size), low: at(size + 2 * u), high: at(size - 2 * u) }
  const suspect = { mark: blamed!.mark, fitsM }
  return [{ ...way, marks: rest, suspect: isAlone ? suspect : way.suspect }]
}

function distinctWays(ways: readonly FitGiven[]): FitGiven[] {
  const keyOf = (way: FitGiven): string =>
    JSON.stringify([
      way.marks.map(({ mark }) => mark.distanceM),
      way.startPriorM,
      way.roughness,
      way.logShift,
      way.suspect?.fitsM.value,
    ])
  return [...new Map(ways.map((way) => [keyOf(way), way])).values()]
}
