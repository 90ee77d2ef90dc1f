import type { Estimate } from '../../math/interval.js'
import { normalQuantile } from '../../math/quantiles.js'
import { COMMON_DRAWS, gainLoads } from '../marks/commonDraws.js'
import { AXES, type MarkMeasurement } from '../marks/markMeasurement.js'
import { type UncertaintySource, expandedOf, variancesOf } from './expandedOf.js'
import type { FittedMark, RangeFit } from './rangeFit.js'

/** A share of the density that counts (pixels with detail), with its expanded uncertainty, 95 %. */
export interface Share {
  readonly value: number
  readonly U: number
}

/**
 * What a reference held square to the ray gets at a line of sight of `distanceM`, px/m: F / D, at a mark and between marks alike, by `share` where that is what counts.
 * The tape's start is the tape's error and not the camera's: it touches the answer through F alone. Where the lens is known, F is that of the middle of the picture,
 * and what the place in the frame leaves of it in its worse direction is that of the marks around: its logarithm runs straight between them and is held beyond.
 * A share never adds: neither end exceeds that of all pixels. Where causes cannot be told apart, the interval is the hull of what holds by each. The high end, by which any
 * one reference shows a promise not met, is that of all references of the light together (see `amongFactor`). Where another light lends its F, that is the one.
 */
export function densityAt(fit: RangeFit, distanceM: number, share: Share | null = null): Estimate {
  return byAllWays(fit, (way) => densityBy(way, distanceM, share))
}

/** How much of the interval of that answer, as a share of its squared width, is because causes cannot be told apart. */
export function leftOpenAt(fit: RangeFit, distanceM: number, share: Share | null): number {
  const width = ({ low, high }: Estimate): number => Math.log(high / low)
  return 1 - (width(densityBy(fit, distanceM, share)) / width(densityAt(fit, distanceM, share))) ** 2
}

/**
 * How many times as far out an end lies by which any one of the n references of a light shows a promise not met: that of 1 - 0.05 / n (Bonferroni) holds for all n together.
 * All must show it met, so the other end needs no more than for one (intersection-union test: R. L. Berger, Technometrics 24 (1982) 295).
 */
export function amongFactor({ among }: RangeFit): number {
  return normalQuantile(1 - 0.025 / among) / normalQuantile(0.975)
}

/** Pixels per radian in the middle of the picture. */
export function constantOf(fit: RangeFit): Estimate {
  return byAllWays(fit, (way) => {
    const U = expandedOf(
      way,
      way.constant.priorWeights.map((_, k) => (k === 0 ? 1 : 0)),
    )
    const value = Math.exp(way.constant.logConstant)
    return { value, low: value * Math.exp(-U), high: value * Math.exp(U) }
  })
}

/** What a fit says, with the hull of what it and those say that cannot be told from it. */
function byAllWays(fit: RangeFit, says: (way: RangeFit) => Estimate): Estimate {
  const own = says(fit)
  const all = [own, ...fit.otherwise.map(says)]
  return {
    value: own.value,
    low: Math.min(...all.map(({ low }) => low)),
    high: Math.max(...all.map(({ high }) => high)),
  }
}

/** ln F, its own or another light's as this one draws, with what the drawing as large leaves open, 95 %. */
function constantHere({ constant, lent }: RangeFit): { readonly logConstant: number; readonly U: number } {
  if (lent === null) return { logConstant: constant.logConstant, U: 0 }
  return { logConstant: lent.fit.constant.logConstant + lent.logScale, U: lent.U }
}

function densityBy(fit: RangeFit, distanceM: number, share: Share | null): Estimate {
  const gain = gainAround(fit.marks, distanceM)
  const { logConstant, U: ofConstant } = constantHere(fit)
  const value = Math.exp(logConstant + gain.log) / distanceM
  const U = Math.hypot(expandedOf(fit.lent?.fit ?? fit, [1, 0, ...gain.loads]), ofConstant)
  const upward = amongFactor(fit)
  const all = { value, low: value * Math.exp(-U), high: value * Math.exp(upward * U) }
  if (share === null) return all
  const joint = Math.hypot(U, share.U / share.value)
  const counted = value * share.value
  return {
    value: counted,
    low: counted * Math.exp(-joint),
    high: Math.min(all.high, counted * Math.exp(upward * joint)),
  }
}

/** What the uncertainty of that answer is made of: relative variance by cause. */
export function variancesAt(
  fit: RangeFit,
  distanceM: number,
  share: Share | null,
): Map<UncertaintySource, number> {
  const variances = variancesOf(fit.lent?.fit ?? fit, [1, 0, ...gainAround(fit.marks, distanceM).loads])
  // The answer's U is a share's; half of it is its standard uncertainty.
  return share === null ? variances : variances.set('detail', (share.U / share.value / 2) ** 2)
}

/** The marks around a distance and how much each counts there; the nearest alone beyond the ends. */
function marksAround(marks: readonly FittedMark[], distanceM: number): [mark: FittedMark, weight: number][] {
  const next = marks.findIndex(({ point }) => point.distanceM >= distanceM)
  if (next <= 0) return [[next === 0 ? marks[0]! : marks.at(-1)!, 1]]
  const [before, beyond] = [marks[next - 1]!, marks[next]!]
  const weight = (distanceM - before.point.distanceM) / (beyond.point.distanceM - before.point.distanceM)
  return [
    [before, 1 - weight],
    [beyond, weight],
  ]
}

function gainAround(marks: readonly FittedMark[], distanceM: number): { log: number; loads: number[] } {
  const loads = new Array<number>(COMMON_DRAWS).fill(0)
  let log = 0
  for (const [{ mark }, weight] of marksAround(marks, distanceM)) {
    const worst = worstAxis(mark)
    log += weight * Math.log(worst?.lens?.gain ?? 1)
    if (worst === null) continue
    for (const [draw, load] of gainLoads(worst).entries()) loads[draw]! += weight * load
  }
  return { log, loads }
}

/** The axis along which the place in the frame leaves least of a density; null where no lens is known. */
function worstAxis({ axes }: MarkMeasurement) {
  const known = AXES.flatMap((axis) => axes[axis] ?? []).filter(({ lens }) => lens !== undefined)
  return known.toSorted((a, b) => a.lens!.gain - b.lens!.gain)[0] ?? null
}
