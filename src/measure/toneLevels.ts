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
  const { labels, quiet } = areas
  const { data } = cut
  // Per label: its pixels, those counted, their sums, those at white and at black.
  const all = new Float64Array(3)
  const clear = new Float64Array(3)
  const white = new Float64Array(3)
  const black = new Float64Array(3)
  for (let at = 0; at < labels.length; at += 1) {
    const label = labels[at]!
    if (label === 0) continue
    const code = data[at]!
    all[label]! += 1
    clear[label]! += quiet[at]!
    if (code >= WHITE_CODE) white[label]! += 1
    if (code <= BLACK_CODE) black[label]! += 1
  }
  const quietOnly = areas.parted && clear[1]! >= LEAST_QUIET && clear[2]! >= LEAST_QUIET
  const linearOf = Float64Array.from({ length: 256 }, (_, code) => linearFromCode(code))
  const codeSum = new Float64Array(3)
  const linearSum = new Float64Array(3)
  for (let at = 0; at < labels.length; at += 1) {
    const label = labels[at]!
    if (label === 0 || (quietOnly && quiet[at] === 0)) continue
    const code = data[at]!
    const low = code >= 254 ? 254 : code > 0 ? code | 0 : 0
    codeSum[label]! += code
    linearSum[label]! += linearOf[low]! + (code - low) * (linearOf[low + 1]! - linearOf[low]!)
  }
  const [first, second] = [1, 2].map((label): ClassLevel => {
    const count = quietOnly ? clear[label]! : all[label]!
    return {
      linear: linearSum[label]! / count,
      code: codeSum[label]! / count,
      count,
      atWhite: white[label]! / all[label]!,
      atBlack: black[label]! / all[label]!,
    }
  })
  // A reference that is one level throughout (all at white) has no contrast, which is a finding, not a fault.
  const some = first!.count > 0 ? first! : second!
  if (some.count === 0) return null
  if (first!.count === 0 || second!.count === 0) return areas.parted ? null : { bright: some, dim: some }
  return first!.code >= second!.code ? { bright: first!, dim: second! } : { bright: second!, dim: first! }
}
