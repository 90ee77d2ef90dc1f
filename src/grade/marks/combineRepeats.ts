import type { Estimate } from '../../math/interval.js'
import { effectiveDensity } from '../../measure/surface/effectiveDensity.js'
import { type PooledStrips, poolStrips } from '../../measure/strip/poolStrips.js'
import {
  type CountedDetail,
  countedDetail,
  countedShare,
  stripShare,
} from '../../measure/surface/countedDetail.js'
import { combineAxis, expandedRel } from './combineAxis.js'
import { combineRoseK } from './combineRoseK.js'
import { detailBound } from '../gradings/detailBound.js'
import { isWashedOut } from '../gradings/gradeStill.js'
import { judgedK } from '../gradings/standsOut.js'
import type { JudgedStill } from '../judgement.js'
import { AXES, type Axis, type MarkAxis, type MarkMeasurement, ONE_MARK_M } from './markMeasurement.js'

/**
 * Combines the stills of ONE light and reference to marks, ascending by distance as taped. Repeats are averaged by
 * weight in log density; their scatter is pooled over all marks given (see `combineAxis`); terms common to all stills of
 * a reference stay out of the weights and are added after. A mark with one still keeps that still's own interval unless
 * the pooled scatter widens it.
 */
export function combineRepeats(stills: readonly JudgedStill[]): MarkMeasurement[] {
  const marks = groupByMark(stills)
  const horizontal = combineAxis(marks, 'horizontal')
  const vertical = combineAxis(marks, 'vertical')
  const along = combineAxis(marks, 'along')
  return marks.map((group, index): MarkMeasurement => {
    const first = group[0]!
    const axes = {
      horizontal: horizontal[index] ?? null,
      vertical: vertical[index] ?? null,
      along: along[index] ?? null,
    }
    const onTarget = combinedOnTarget(group, axes)
    const strips = pooledStrips(group)
    const detail = combinedDetail(group, onTarget, strips)
    return {
      light: first.light,
      reference: first.reference,
      distanceM: first.distanceM,
      lineOfSightM: first.lineOfSightM,
      stills: group,
      axes,
      onTarget,
      ...detail,
      ...boundOf(group),
      detailFrom: null,
      detailElsewhere: null,
      roseK: strips?.k ?? combineRoseK(group.map(({ measurement }) => judgedK(measurement))),
      washedOut: group.every(({ measurement }) => isWashedOut(measurement)),
      facing: meanOfKnown(group.map(({ measurement }) => measurement.density.facing)),
      turnDeg: largestTurn(group),
    }
  })
}

/** The stills of a mark that tell its detail and contrast: where strips were read in some, those alone. */
function telling(group: readonly JudgedStill[]): readonly JudgedStill[] {
  const read = group.filter(({ measurement: { strip } }) => strip !== null && strip !== undefined)
  return read.length > 0 ? read : group
}

/** What the strips of a mark's stills tell together; null where none were read. */
function pooledStrips(group: readonly JudgedStill[]): PooledStrips | null {
  const read = group.flatMap(({ measurement: { strip } }) => strip ?? [])
  return read.length === 0 ? null : poolStrips(read)
}

function groupByMark(stills: readonly JudgedStill[]): JudgedStill[][] {
  const sorted = [...stills].sort((a, b) => a.distanceM - b.distanceM || (a.file < b.file ? -1 : 1))
  const groups: JudgedStill[][] = []
  for (const still of sorted) {
    const group = groups.at(-1)
    // The slack of a nanometre keeps 12.00 and 12.01 together in binary fractions.
    if (group !== undefined && still.distanceM - group[0]!.distanceM <= ONE_MARK_M + 1e-9) group.push(still)
    else groups.push([still])
  }
  return groups
}

function combinedOnTarget(
  group: readonly JudgedStill[],
  axes: Readonly<Record<Axis, MarkAxis | null>>,
): Estimate {
  const known = AXES.map((axis) => axes[axis]).filter((axis) => axis !== null)
  if (group.length === 1 && known.every(({ dof }) => dof === Infinity)) {
    const { onTarget, low, high } = group[0]!.measurement.density
    return { value: onTarget, low, high }
  }
  return {
    value: Math.min(...known.map(({ densityPxPerM }) => densityPxPerM)),
    // Repeats that differ by more than themselves leave nothing known from below.
    low: Math.min(...known.map((axis) => axis.densityPxPerM * Math.max(0, 1 - expandedRel(axis)))),
    high: Math.min(...known.map((axis) => axis.densityPxPerM * (1 + expandedRel(axis)))),
  }
}

/** Detail of a mark is an upper bound where that of any of its stills is. */
function boundOf(group: readonly JudgedStill[]): Pick<MarkMeasurement, 'boundBy' | 'isBound'> {
  const boundBy = telling(group)
    .map(({ measurement, light }) => detailBound(measurement, light))
    .find((cause) => cause !== null)
  return { boundBy: boundBy ?? null, isBound: boundBy !== undefined }
}

function combinedDetail(
  group: readonly JudgedStill[],
  onTarget: Estimate,
  strips: PooledStrips | null,
): Pick<MarkMeasurement, 'factor' | 'effectiveDensity'> {
  const detailed = telling(group).flatMap(({ measurement }) => {
    const [detail, { effectiveDensity }] = [countedDetail(measurement), measurement]
    return detail === null || effectiveDensity === null ? [] : [{ detail, effectiveDensity }]
  })
  const first = detailed[0]
  if (first === undefined) return { factor: null, effectiveDensity: null }
  const shares = telling(group).flatMap(({ measurement }) => stripShare(measurement)?.share ?? [])
  const factor =
    strips === null || shares.length === 0
      ? combinedFactor(detailed.map(({ detail }) => detail))
      : pooledFactor(shares, strips)
  if (group.length === 1) return { factor, effectiveDensity: first.effectiveDensity }
  return {
    factor,
    effectiveDensity: effectiveDensity(
      { ...onTarget, onTarget: onTarget.value },
      { factor: factor.value, factorU: factor.U },
    ),
  }
}

function pooledFactor(shares: readonly number[], { a, aU }: PooledStrips): { value: number; U: number } {
  const share = shares.reduce((sum, one) => sum + one, 0) / shares.length
  const { factor, factorU } = countedShare({ share, rel: a > 0 ? aU / a : 0 })
  return { value: factor, U: factorU }
}

// The plain mean, and of the uncertainties the larger of two: the mean of the stated ones (a tone curve taken for granted
// is taken so in every repeat) and the scatter of the stills.
function combinedFactor(measured: readonly CountedDetail[]): { value: number; U: number } {
  const n = measured.length
  const value = measured.reduce((sum, { factor }) => sum + factor, 0) / n
  const stated = measured.reduce((sum, { factorU }) => sum + factorU, 0) / n
  if (n === 1) return { value, U: stated }
  const variance = measured.reduce((sum, { factor }) => sum + (factor - value) ** 2, 0) / (n - 1)
  return { value, U: Math.max(stated, 2 * Math.sqrt(variance / n)) }
}

function meanOfKnown(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null)
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length
}

function largestTurn(group: readonly JudgedStill[]): number | null {
  let largest = 0
  for (const { measurement } of group) {
    if (measurement.pose === null) return null
    const { yaw, pitch } = measurement.pose
    const cosine = Math.cos((yaw * Math.PI) / 180) * Math.cos((pitch * Math.PI) / 180)
    largest = Math.max(largest, (Math.acos(Math.min(1, Math.max(-1, cosine))) * 180) / Math.PI)
  }
  return largest
}
