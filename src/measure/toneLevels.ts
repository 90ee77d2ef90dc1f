import { linearFromCode } from './srgb.js'
import type { ReferenceCut, ToneAreas } from './toneAreas.js'

/** Codes from here on are at white, and up to here at black: JPEG moves a clipped area by a code value or two. */
export const WHITE_CODE = 253
export const BLACK_CODE = 2

/** Fewer quiet pixels than this of a class, and all its pixels give its level instead: this project's convention. */
export const LEAST_QUIET = 24

/** One class: its mean in linear light and in code values, the pixels these are from, and the shares at white and at black. */
export interface ClassLevel {
  readonly linear: number
  readonly code: number
  readonly count: number
  readonly atWhite: number
  readonly atBlack: number
}

/** The levels of the brighter and the dimmer class, from pixels clear of borders where there are enough of both; null where there are none. */
export function classLevels(
  cut: ReferenceCut,
  areas: ToneAreas,
): { readonly bright: ClassLevel; readonly dim: ClassLevel } | null {
  const clear = [0, 0, 0]
  const { labels, quiet } = areas
  for (let at = 0; at < labels.length; at += 1) if (quiet[at] === 1) clear[labels[at]!]! += 1
  const quietOnly = areas.parted && clear[1]! >= LEAST_QUIET && clear[2]! >= LEAST_QUIET
  const linearOf = Float64Array.from({ length: 256 }, (_, code) => linearFromCode(code))
  const sums = [1, 2].map(() => ({ count: 0, linear: 0, code: 0, white: 0, black: 0, all: 0 }))
  for (let at = 0; at < labels.length; at += 1) {
    const label = labels[at]!
    if (label === 0) continue
    const sum = sums[label - 1]!
    const code = cut.data[at]!
    sum.all += 1
    if (code >= WHITE_CODE) sum.white += 1
    if (code <= BLACK_CODE) sum.black += 1
    if (quietOnly && quiet[at] === 0) continue
    const low = Math.max(0, Math.min(254, Math.floor(code)))
    sum.count += 1
    sum.code += code
    sum.linear += linearOf[low]! + (code - low) * (linearOf[low + 1]! - linearOf[low]!)
  }
  const [first, second] = sums.map(({ count, linear, code, white, black, all }) => ({
    linear: linear / count,
    code: code / count,
    count,
    atWhite: white / all,
    atBlack: black / all,
  }))
  // A reference that is one level throughout (all at white) has no contrast, which is a finding, not a fault.
  const some = first!.count > 0 ? first! : second!
  if (some.count === 0) return null
  if (first!.count === 0 || second!.count === 0) return areas.parted ? null : { bright: some, dim: some }
  return first!.code >= second!.code ? { bright: first!, dim: second! } : { bright: second!, dim: first! }
}
