import { linearFromCode } from '../../math/srgb.js'
import { WHITE_CODE, BLACK_CODE } from './clipping.js'
import type { ReferenceCut, ToneAreas } from './toneAreas.js'

/** Fewer quiet pixels than this of a class, and all its pixels give its level instead: this project's convention. */
export const LEAST_QUIET = 24

/** What is black is no part of a class whose other pixels lie so many code values, and so many times the noise, above: it is missing, or another thing. This project's convention. */
const FOREIGN_CODES = 16
const FOREIGN_NOISES = 8

/** One class: its mean in linear light and in code values, the pixels these are from, and the shares at white and at black. */
export interface ClassLevel {
  readonly linear: number
  readonly code: number
  readonly count: number
  readonly atWhite: number
  readonly atBlack: number
}

export interface ToneLevels {
  readonly bright: ClassLevel
  readonly dim: ClassLevel
  /** Whether both are from pixels clear of borders; where not, blur has taken its part of them. */
  readonly areClear: boolean
}

/** The levels of the brighter and the dimmer class, from pixels clear of borders where there are enough of both; null where there are none. */
export function classLevels(cut: ReferenceCut, areas: ToneAreas): ToneLevels | null {
  const linearOf = Float64Array.from({ length: 256 }, (_, code) => linearFromCode(code))
  const sums = [1, 2].map((label) => ownSums(cut.data, areas, label, linearOf))
  const quietOnly = areas.parted && sums.every(({ clear }) => clear.count >= LEAST_QUIET)
  const [first, second] = sums.map(({ all, clear, white, black, seen }): ClassLevel => {
    const { count, code, linear } = quietOnly ? clear : all
    return { linear: linear / count, code: code / count, count, atWhite: white / seen, atBlack: black / seen }
  })
  // A reference that is one level throughout (all at white) has no contrast, which is a finding, not a fault.
  const some = first!.count > 0 ? first! : second!
  if (some.count === 0) return null
  if (first!.count === 0 || second!.count === 0)
    return areas.parted ? null : { bright: some, dim: some, areClear: quietOnly }
  const [bright, dim] = first!.code >= second!.code ? [first!, second!] : [second!, first!]
  return { bright, dim, areClear: quietOnly }
}

/** A class' sums without what is black and foreign in it. */
function ownSums(data: Float32Array, areas: ToneAreas, label: number, linearOf: Float64Array): ClassSums {
  const sums = classSums(data, areas, label, linearOf, -Infinity)
  const { all, black } = sums
  const others = (all.code - BLACK_CODE * black) / (all.count - black)
  const isForeign = black > 0 && others > BLACK_CODE + Math.max(FOREIGN_CODES, FOREIGN_NOISES * areas.noise)
  return isForeign ? { ...classSums(data, areas, label, linearOf, BLACK_CODE), black, seen: all.count } : sums
}

interface LevelSums {
  readonly count: number
  readonly code: number
  readonly linear: number
}

interface ClassSums {
  readonly all: LevelSums
  readonly clear: LevelSums
  readonly white: number
  readonly black: number
  /** Of so many pixels. */
  readonly seen: number
}

/** Sums over one label's pixels above a code, over those of them that are clear of borders, and the numbers at white and at black. */
function classSums(
  data: Float32Array,
  { labels, quiet }: ToneAreas,
  label: number,
  linearOf: Float64Array,
  above: number,
): ClassSums {
  let count = 0
  let codeSum = 0
  let linearSum = 0
  let clearCount = 0
  let clearCode = 0
  let clearLinear = 0
  let white = 0
  let black = 0
  for (let at = 0; at < labels.length; at += 1) {
    if (labels[at] !== label) continue
    const code = data[at]!
    if (code <= above) continue
    const low = code >= 254 ? 254 : code > 0 ? code | 0 : 0
    const below = linearOf[low]!
    const linear = below + (code - low) * (linearOf[low + 1]! - below)
    count += 1
    codeSum += code
    linearSum += linear
    if (code >= WHITE_CODE) white += 1
    if (code <= BLACK_CODE) black += 1
    if (quiet[at] === 0) continue
    clearCount += 1
    clearCode += code
    clearLinear += linear
  }
  return {
    all: { count, code: codeSum, linear: linearSum },
    clear: { count: clearCount, code: clearCode, linear: clearLinear },
    white,
    black,
    seen: count,
  }
}
