import { CAUSE_NAMES } from '../court/sentences.js'
import { ASSUMED_EXPONENT_U } from '../../measure/edge/toneLoad.js'
import { listed } from '../../units/figures.js'
import type { CauseKind } from '../court/causes.js'
import type { Said } from '../../sentences.js'
import type { Basis } from '../judgement.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import { mostlyFrom } from '../range/densityThere.js'
import type { UncertaintySource } from '../range/expandedOf.js'
import { keptMarks, type Series } from '../range/series.js'
import { type DecidingPart, gradeSays } from '../sentences.js'

/** The references that marks took their detail from. */
export function lendersOf(marks: readonly MarkMeasurement[]): string[] {
  return [...new Set(marks.flatMap(({ detailFrom }) => detailFrom?.reference ?? []))]
}

/** The density that was asked for: at a distance as taped, metres, on a basis, at a mark where one stands there. */
interface Asked {
  readonly series: Series
  readonly distanceM: number
  readonly basis: Basis
  readonly mark: MarkMeasurement | undefined
}

/** That a limit lies inside an interval, what most of the interval comes from, and what to do about that. */
export function undecided(counted: string, limit: string, { series, distanceM, basis, mark }: Asked): Said {
  const { cause, share } = mostlyFrom(series, distanceM, basis, mark)
  const marks = mark === undefined ? keptMarks(series) : [mark]
  return gradeSays.undecided(
    counted,
    limit,
    partOf(cause, marks),
    Math.round(100 * share),
    tellerOf(cause, series, marks),
  )
}

/** What a cause is of, in words. */
function tellerOf(
  cause: UncertaintySource | 'causes',
  { fit, reference }: Series,
  marks: readonly MarkMeasurement[],
): string {
  if (cause === 'causes') return listed(fit!.otherwiseBy.map((kind) => CAUSE_NAMES[kind as CauseKind]))
  return cause === 'detail' ? (lendersOf(marks)[0] ?? reference) : reference
}

function partOf(cause: UncertaintySource | 'causes', marks: readonly MarkMeasurement[]): DecidingPart {
  if (cause === 'habit') return 'clicks'
  if (cause === 'points') return marks.some(isClicked) ? 'clicks' : cause
  return cause === 'detail' && marks.some(restsOnTone) ? 'tone' : cause
}

/** Whether most of what is open in a mark's detail is the curve it had to be read by. */
function restsOnTone({ detailFrom, factor, stills }: MarkMeasurement): boolean {
  if (detailFrom !== null) return detailFrom.mostlyTone
  const loads = stills.map(({ measurement: { method, sharpness } }) =>
    method === 'chart' ? 0 : (sharpness?.shared?.toneLoad ?? 0),
  )
  const u = Math.max(...loads) * ASSUMED_EXPONENT_U
  return factor !== null && 2 * (2 * u) ** 2 > (factor.U / factor.value) ** 2
}

function isClicked({ stills }: MarkMeasurement): boolean {
  return stills.some(({ measurement: { budget } }) =>
    [budget.horizontal, budget.along].some((axis) => !!axis?.clickBiasRel),
  )
}
