import { gradeMeasured } from './gradings/gradeMeasured.js'
import { resolvedDetail } from '../measure/surface/resolvedDetail.js'
import type { Estimate, MaybeBound } from '../math/interval.js'
import { DEFAULT_FULL_DETAIL_AT, type Grading } from './gradings/grading.js'
import type { Basis, MarkResult } from './judgement.js'
import type { MarkMeasurement } from './marks/markMeasurement.js'
import { problem } from '../sentences.js'
import type { Figures } from '../units/figures.js'
import { elsewhereWords, noDetailWords, suspectTurn, turnWords, unusableWords } from './marks/markWords.js'
import { gradeSays } from './sentences.js'
import { type Series, suspectFits } from './range/series.js'
import { asBound } from './range/densityThere.js'
import { whyApart } from './marks/seriesSize.js'
import { isTurned } from './marks/turned.js'

/** A mark as the results tell it; `why` says what kept it back, the gravest first, and is empty where nothing did. */
export function markResult(
  mark: MarkMeasurement,
  series: Series,
  grading: Grading,
  judge: Basis,
  figures: Figures,
): MarkResult {
  const result = plainResult(mark, grading, judge)
  const leftOut = series.fit?.suspect?.mark === mark
  return {
    ...result,
    why: whyOf(mark, series, grading, judge, figures, result.usable, leftOut),
    leftOut,
  }
}

/** A mark of which every still stands apart from its series: shown, with the reason. */
export function apartResult(mark: MarkMeasurement, grading: Grading, judge: Basis): MarkResult {
  const why = mark.stills.flatMap(({ measurement }) => whyApart(measurement.problems) ?? [])[0]
  return { ...plainResult(mark, grading, judge), why: why?.message ?? '', leftOut: true }
}

function plainResult(
  mark: MarkMeasurement,
  grading: Grading,
  judge: Basis,
): Omit<MarkResult, 'why' | 'leftOut'> {
  return {
    light: mark.light,
    reference: mark.reference,
    distance: mark.distanceM,
    lineOfSight: mark.lineOfSightM,
    stills: mark.stills.length,
    density: mark.onTarget,
    effectiveDensity: mark.effectiveDensity && asBound(mark.effectiveDensity, mark.isBound),
    resolved: resolvedAt(mark, grading),
    detailFrom: mark.detailFrom?.reference ?? null,
    ...gradeMeasured(mark, grading, judge),
  }
}

/** The mean over its own stills' strong edges, which no enlarging raises; by strips, or taken from elsewhere, as it counts. */
function resolvedAt(mark: MarkMeasurement, grading: Grading): MaybeBound | null {
  const isByStrips = mark.stills.some(({ measurement: { strip } }) => strip)
  const told = mark.stills.flatMap(({ measurement: { density, sharpness } }) =>
    sharpness === null || isByStrips ? [] : [resolvedDetail(density, sharpness)],
  )
  const { effectiveDensity } = mark
  if (told.length === 0) {
    if (effectiveDensity === null) return null
    const { value, low, high } = effectiveDensity
    const at = grading.fullDetailAt ?? DEFAULT_FULL_DETAIL_AT
    return asBound({ value: at * value, low: at * low, high: at * high }, mark.isBound)
  }
  const mean = (of: (one: Estimate) => number): number =>
    told.reduce((sum, one) => sum + of(one), 0) / told.length
  const all = {
    value: mean(({ value }) => value),
    low: mean(({ low }) => low),
    high: mean(({ high }) => high),
  }
  return asBound(all, mark.isBound)
}

function whyOf(
  mark: MarkMeasurement,
  series: Series,
  grading: Grading,
  judge: Basis,
  figures: Figures,
  usable: boolean | null,
  leftOut: boolean,
): string {
  if (leftOut) {
    const fits = suspectFits(series, figures)
    return problem(gradeSays['left-out'](fits, suspectTurn(mark))).message
  }
  if (usable === false) return unusableWords(mark, grading)
  const turned = grading.grades.find(({ limit }) => isTurned(mark, mark.onTarget, limit))
  if (turned !== undefined)
    return [gradeSays['held-turned'](turnWords(mark), turned.name).message, ...lentWords(mark)].join('; ')
  const noDetail =
    judge === 'detail' && mark.effectiveDensity === null
      ? [noDetailWords(mark) + elsewhereWords(mark, figures)]
      : []
  return [...noDetail, ...heightWords(mark, grading), ...lentWords(mark)].join('; ')
}

/** Where a mark's detail was taken from, where it is not its own. */
function lentWords({ detailFrom }: MarkMeasurement): string[] {
  return detailFrom === null ? [] : [gradeSays['detail-from'](detailFrom.reference).message]
}

/** A height known badly, where its interval costs the mark a grade its value reaches. */
function heightWords(mark: MarkMeasurement, grading: Grading): string[] {
  const { low, value } = mark.onTarget
  if (!grading.grades.some(({ limit }) => low < limit && limit <= value)) return []
  const told = mark.stills
    .flatMap(({ measurement }) => measurement.problems)
    .find(({ code }) => code === 'height-decides')
  return told === undefined ? [] : [told.message]
}
