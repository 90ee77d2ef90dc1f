import type { Estimate } from '../math/interval.js'
import { printedEstimate, printedValue, type PrintedEstimate } from './printedEstimate.js'

/** A share as percent, no unit, never rounded across the share it is held against. */
export function printedShare({ value, low, high }: Estimate, limit: number): PrintedEstimate {
  return printedEstimate({ value: 100 * value, low: 100 * low, high: 100 * high }, [inPercent(limit)])
}

/** A share in a sentence: "96.1 % (95.2 to 97.4 %)", never rounded across the one it is held against; one without an interval whole: "95 %". */
export function shareText(share: Estimate | number, limit = 0): string {
  if (typeof share === 'number') return `${Number(printedValue(100 * share, 1))} %`
  const { value, low, high } = printedShare(share, limit)
  return `${value} % (${low} to ${high} %)`
}

/** Without the last bits' noise. */
function inPercent(share: number): number {
  return Number((100 * share).toPrecision(12))
}
