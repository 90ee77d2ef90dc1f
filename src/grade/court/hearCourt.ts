import { normalQuantile } from '../../math/quantiles.js'
import type { FittedMark } from '../range/rangeFit.js'
import { type Cause, type CauseKind, causeColumn, causesOf, isShift } from './causes.js'
import { type CourtMark, courtMarks } from './courtMarks.js'
import { courtModel, type Freed, nothingFreed, type Tried } from './courtModel.js'
import { tryCause } from './tryCause.js'

/** A cause that the marks speak for: its size with its standard uncertainty (metres for a shift, a ratio for roughness, else the logarithm of a ratio). */
export interface NamedCause extends Cause, Tried {}

/** What one hearing found: causes that cannot be told apart, the likeliest first. */
export type Finding = readonly NamedCause[]

/** Chance that an honest walk is accused of anything. */
const FALSE_CHARGE = 0.03
/** Causes within this of the likeliest, twice a logarithm of a factor of 10, are named beside it. */
const AS_LIKELY = 2 * Math.log(10)
/** The same where the likeliest is one mark: a factor of 30. With 10 a good mark was blamed in 3 of 100 walks clicked twice as roughly as stated (simulated). */
const AS_LIKELY_AS_A_MARK = 2 * Math.log(30)
/** More causes than this are not named at once. This project's convention. */
const MOST_NAMED = 4
/** What remains after the first cause is heard once more; single marks, one a series, beside that. */
const HEARINGS = 2
/** How likely a kind is beforehand, against the others. This project's convention. */
const PRIOR: Partial<Record<CauseKind, number>> = { scaled: 0.1 }

/**
 * Tries the causes of a walk's disagreement against each other, before one mark is blamed: each by how far chi-square falls where it alone is freed. Silent while none
 * would be that strong by chance in 3 walks of 100, kinds and members counted (family-wise, Bonferroni); the strongest is freed and what remains is heard once more.
 * One mark is blamed alone or not at all.
 */
export function hearCourt(all: readonly FittedMark[], lensKnown: boolean): Finding[] {
  if (all.length === 0) return []
  const marks = courtMarks(all, lensKnown)
  const causes = causesOf(marks)
  const found: Finding[] = []
  let freed = nothingFreed(marks)
  for (;;) {
    const named = found.flat()
    if (told(found).filter(([first]) => first!.kind !== 'mark').length >= HEARINGS) return told(found)
    const open = causes.filter((cause) =>
      cause.kind === 'mark'
        ? !named.some((one) => one.kind === 'mark' && shareSeries(one, cause, marks))
        : !named.some(
            ({ kind }) => kind === cause.kind || (kind === 'lookedDown' && cause.kind === 'aspect'),
          ),
    )
    const heard = hearing(marks, open, freed)
    if (heard.length === 0) return told(found)
    found.push(heard)
    if (heard.every(({ kind }) => kind === 'mark') && heard.length > 1) return told(found)
    freed = freedOf(marks, heard[0]!, freed)
  }
}

function told(found: readonly Finding[]): Finding[] {
  return found.filter(([first]) => first!.kind !== 'lookedDown')
}

/** Per kind, how likely one of its causes is beforehand, against a kind of one cause, and from which fall of chi-square on it stands out. */
export function standingOut(
  causes: readonly Cause[],
): Map<CauseKind, { readonly share: number; readonly leastDrop: number }> {
  const kinds = [...new Set(causes.map(({ kind }) => kind))]
  const weights = kinds.reduce((sum, kind) => sum + (PRIOR[kind] ?? 1), 0)
  return new Map(
    kinds.map((kind) => {
      const share = (PRIOR[kind] ?? 1) / causes.filter((one) => one.kind === kind).length
      return [kind, { share, leastDrop: normalQuantile(1 - ((FALSE_CHARGE / 2) * share) / weights) ** 2 }]
    }),
  )
}

/** The causes that stand out, the likeliest first; none where the walk is as expected. */
function hearing(marks: readonly CourtMark[], causes: readonly Cause[], freed: Freed): Finding {
  const model = courtModel(marks, freed)
  const standing = standingOut(causes)
  const tried = causes.map((cause) => ({ ...cause, ...tryCause(cause, model, freed) }))
  const score = ({ kind, drop }: NamedCause): number => drop + 2 * Math.log(standing.get(kind)!.share)
  const stands = ({ kind, drop }: NamedCause): boolean => drop > standing.get(kind)!.leastDrop
  if (!tried.some(stands)) return []
  const ranked = tried.toSorted((a, b) => score(b) - score(a))
  const asLikely = ranked[0]!.kind === 'mark' ? AS_LIKELY_AS_A_MARK : AS_LIKELY
  const close = ranked.filter((each) => score(each) > score(ranked[0]!) - asLikely).slice(0, MOST_NAMED)
  // Freed first and not told: what is wrong beside it stands out then.
  if (close[0]!.kind === 'lookedDown') return close.slice(0, 1)
  const isTurn = close.some(({ kind }) => kind === 'lookedDown')
  return close.flatMap((each) => {
    if (each.kind === 'lookedDown') return []
    return isTurn && each.kind === 'aspect' ? { ...each, mayBeTurn: true } : each
  })
}

function shareSeries(one: Cause, other: Cause, marks: readonly CourtMark[]): boolean {
  const series = ({ mark }: FittedMark): string => JSON.stringify([mark.light, mark.reference])
  const all = marks.map(({ fitted }) => fitted)
  const touched = new Set(all.filter(one.touches).map(series))
  return all.some((mark) => other.touches(mark) && touched.has(series(mark)))
}

function freedOf(marks: readonly CourtMark[], named: NamedCause, freed: Freed): Freed {
  if (named.kind === 'rougher') return { ...freed, roughness: named.size }
  const shiftsM = isShift(named)
    ? freed.shiftsM.map((by, i) => by + (named.touches(marks[i]!.fitted) ? named.size : 0))
    : freed.shiftsM
  return { ...freed, shiftsM, columns: [...freed.columns, causeColumn(named, marks, shiftsM)] }
}
