import { groupBy } from '../../math/groupBy.js'
import { ASSUMED_EXPONENT_U } from '../../measure/edge/toneLoad.js'
import type { DirectionSharpness, Sharpness, ToneExponent } from '../../measure/stillMeasurement.js'
import { poolStrips } from '../../measure/strip/poolStrips.js'
import { countedDetail, stripShare } from '../../measure/surface/countedDetail.js'
import { effectiveDensity } from '../../measure/surface/effectiveDensity.js'
import type { JudgedStill } from '../judgement.js'
import { markDirection } from './markDirection.js'
import { type MarkMeasurement, markReachM } from './markMeasurement.js'

/** f10 reads up to so much off at one mark and all its stills alike (rectangular; measured 0.8 % between marks). This project's convention. */
const MARK_BIAS_REL = 0.01

/** A mark so much farther out in the picture than any that tells detail takes none: lenses are softer there. This project's convention. */
const FARTHER_OUT_RAD = (5 * Math.PI) / 180

/** A reference that tells detail, from where to where it does, metres as taped, and how far off the picture's middle, radians. */
interface Lender {
  readonly reference: string
  readonly nearM: number
  readonly farM: number
  readonly outRad: number
}

/** What a lender tells: the share of pixels that carry detail, with its U (95 %), and whether most of that is the tone curve's. */
interface LentDetail extends Lender, Pick<MarkMeasurement, 'boundBy' | 'isBound'> {
  readonly factor: { readonly value: number; readonly U: number }
  readonly mostlyTone: boolean
}

/** How detail is lent: the f10 that counts as full, and how near two distances are one place, metres. */
export interface LendingConditions {
  readonly fullDetailAt: number
  readonly toleranceM: number
}

/**
 * Detail belongs to lens, light and stream: a mark that shows none of its own takes it from another reference of its light and size of still whose marks enclose it and are seen as far out in the picture.
 * Of several the one known best lends. All marks here are of one light. Where none encloses it, the mark says who tells detail elsewhere.
 */
export function lendDetail(
  marks: readonly MarkMeasurement[],
  { fullDetailAt, toleranceM }: LendingConditions,
): MarkMeasurement[] {
  if (marks.every(({ factor }) => factor !== null)) return [...marks]
  const exponent = exponentOf(marks.flatMap(({ stills }) => stills))
  const shown = marks.filter((mark) => detailOf(mark, fullDetailAt).length > 0)
  const lent = [...groupBy(shown, ({ reference }) => reference).values()]
    .map((own) => ({ size: sizeOf(own[0]!), ...lentBy(best(own), exponent, fullDetailAt) }))
    .toSorted((a, b) => a.factor.U / a.factor.value - b.factor.U / b.factor.value)
  return marks.map((mark) => {
    const fitting = lent.filter(
      ({ reference, size }) => reference !== mark.reference && size === sizeOf(mark),
    )
    if (mark.factor !== null || fitting.length === 0) return mark
    const around = fitting.filter(
      ({ nearM, farM }) =>
        mark.distanceM >= nearM - markReachM(nearM, toleranceM) &&
        mark.distanceM <= farM + markReachM(farM, toleranceM),
    )
    const taken = around.find(({ outRad }) => outOf(mark) <= outRad + FARTHER_OUT_RAD)
    if (taken === undefined) {
      return {
        ...mark,
        detailElsewhere: { ...(around[0] ?? fitting[0]!), isNearerMiddle: around.length > 0 },
      }
    }
    const { factor, reference, mostlyTone, boundBy, isBound } = taken
    return {
      ...mark,
      factor,
      effectiveDensity: effectiveDensity(
        { ...mark.onTarget, onTarget: mark.onTarget.value },
        { factor: factor.value, factorU: factor.U },
      ),
      boundBy,
      isBound,
      detailFrom: { reference, mostlyTone },
    }
  })
}

/**
 * Mean ln f10 over a reference's marks in each direction, the lower deciding, with the hull interval. The scatter between marks (or what their stills state, where that
 * is more) is mostly bias and does not shrink with their number; the tone curve's share is what is known of its exponent.
 */
function lentBy(marks: readonly MarkMeasurement[], exponent: ToneExponent, fullDetailAt: number): LentDetail {
  const told = marks.map((mark) => detailOf(mark, fullDetailAt))
  const all = told.flat()
  const load = meanOf(all.map(({ shared }) => shared?.toneLoad ?? 0))
  const own = Math.sqrt(meanOf(all.map((each) => ownRel(each) ** 2)))
  const shape = meanOf(all.map(({ shared }) => shared?.shapeRel ?? 0))
  const toneRel = load * exponent.u
  const ways = (['horizontal', 'vertical'] as const).map((way) => {
    const logs = told.map((stills) => meanOf(stills.map((each) => Math.log(each[way].mtf10))))
    const log = meanOf(logs) - load * exponent.ln
    const scatter = Math.max(deviation(logs), own)
    const rest = Math.hypot(scatter, MARK_BIAS_REL / Math.sqrt(3), shape)
    return { log, rest, U: 2 * Math.hypot(rest, toneRel) }
  })
  const factorAt = (ends: readonly number[]): number =>
    Math.min(1, Math.exp(Math.min(...ends)) / fullDetailAt)
  const value = factorAt(ways.map(({ log }) => log))
  const low = factorAt(ways.map(({ log, U }) => log - U))
  const high = factorAt(ways.map(({ log, U }) => log + U))
  const places = marks.map(({ distanceM }) => distanceM)
  return {
    reference: marks[0]!.reference,
    nearM: Math.min(...places),
    farM: Math.max(...places),
    outRad: Math.max(...marks.map(outOf)),
    factor: { value, U: Math.max(value - low, high - value) },
    boundBy: marks.find(({ isBound }) => isBound)?.boundBy ?? null,
    isBound: marks.some(({ isBound }) => isBound),
    mostlyTone: ways.some(({ rest }) => toneRel > rest),
  }
}

/** What is known of the camera's exponent in a light: what its chart tells best, else as it is assumed. */
function exponentOf(stills: readonly JudgedStill[]): ToneExponent {
  const told = stills.flatMap(({ measurement }) => measurement.tone?.exponent ?? [])
  return told.toSorted((a, b) => a.u - b.u)[0] ?? { ln: 0, u: ASSUMED_EXPONENT_U }
}

/** Relative standard uncertainty of f10 that is of a still alone; all of it where the parts are not told. */
function ownRel({ factor, factorU, f10OwnU, horizontal, vertical }: LentFrom): number {
  const f10 = Math.min(horizontal.mtf10, vertical.mtf10)
  return f10OwnU === undefined ? factorU / factor / 2 : f10OwnU / f10 / 2
}

/** How far off the picture's middle a mark's reference is seen, radians. */
function outOf(mark: MarkMeasurement): number {
  const { acrossRad, downRad } = markDirection(mark)
  return Math.hypot(acrossRad, downRad)
}

/** What of a still's detail is lent: f10 in both directions and what is open in it. */
type LentFrom = Pick<Sharpness, 'factor' | 'factorU' | 'f10OwnU' | 'shared'> &
  Readonly<Record<'horizontal' | 'vertical', Pick<DirectionSharpness, 'mtf10'>>>

/** The detail of a mark's stills: by strips, as the f10 that counts as much, where some were read; else by edges. */
function detailOf({ stills }: MarkMeasurement, fullDetailAt: number): LentFrom[] {
  const strips = stills.flatMap(({ measurement: { strip } }) => strip ?? [])
  const { a, aU } = strips.length === 0 ? { a: 0, aU: 0 } : poolStrips(strips)
  const read = stills.flatMap(({ measurement }): LentFrom[] => {
    const told = stripShare(measurement)
    if (told === null || told.share === 0 || !(a > 0)) return []
    const mtf10 = told.share * fullDetailAt
    const f10OwnU = (aU / a) * mtf10
    return [{ ...countedDetail(measurement)!, horizontal: { mtf10 }, vertical: { mtf10 }, f10OwnU }]
  })
  if (read.length > 0) return read
  return stills.flatMap(({ measurement: { sharpness } }) =>
    sharpness !== null && sharpness.horizontal.mtf10 > 0 && sharpness.vertical.mtf10 > 0 ? [sharpness] : [],
  )
}

/** The marks of a reference that lend: where strips were read at some, those alone. */
function best(marks: readonly MarkMeasurement[]): readonly MarkMeasurement[] {
  const read = marks.filter(({ stills }) => stills.some(({ measurement: { strip } }) => strip))
  return read.length > 0 ? read : marks
}

function sizeOf({ stills }: MarkMeasurement): string {
  const { width, height } = stills[0]!.measurement
  return `${width} x ${height}`
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

function deviation(values: readonly number[]): number {
  if (values.length < 2) return 0
  const mean = meanOf(values)
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1))
}
