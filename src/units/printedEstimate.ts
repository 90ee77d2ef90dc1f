import type { Estimate } from '../math/interval.js'

/** The three figures of an estimate as a person reads them, all with the same decimals. */
export interface PrintedEstimate {
  readonly value: string
  readonly low: string
  readonly high: string
}

/** Decimals beyond these tell nothing, however close a value lies to a limit. */
const MOST_DECIMALS = 9

/**
 * An estimate in print: as many decimals as its expanded uncertainty, half the interval, gives two digits (GUM 7.2.6), the value rounded to the nearest,
 * the interval outward so that what is printed never claims more than was found. Where rounding would carry a figure onto or over one of the limits it
 * is read against, it gets decimals until it stands on its own side. All in one unit, that of the print.
 */
export function printedEstimate(
  { value, low, high }: Estimate,
  limits: readonly number[] = [],
): PrintedEstimate {
  for (let decimals = decimalsFor((high - low) / 2); ; decimals += 1) {
    const printed = { value: value.toFixed(decimals), low: downTo(low, decimals), high: upTo(high, decimals) }
    const keepsSides = limits.every(
      (limit) =>
        Number(printed.value) >= limit === value >= limit &&
        Number(printed.low) >= limit === low >= limit &&
        Number(printed.high) >= limit === high >= limit,
    )
    if (keepsSides || decimals >= MOST_DECIMALS) return printed
  }
}

/** An estimate with its interval in one, as sentences and plain tables have it: "0.93 (0.91 to 0.95)". */
export function estimateText(estimate: Estimate): string {
  const { value, low, high } = printedEstimate(estimate)
  return `${value} (${low} to ${high})`
}

/** An expanded uncertainty by itself, two digits, rounded up: "0.13", "14". */
export function printedUncertainty(U: number): string {
  return upTo(U, decimalsFor(U))
}

/** A figure without an uncertainty of its own: so many decimals, and more where rounding would carry it onto or over a limit. */
export function printedValue(value: number, decimals: number, limits: readonly number[] = []): string {
  for (let more = decimals; ; more += 1) {
    const text = value.toFixed(more)
    const keepsSides = limits.every((limit) => Number(text) >= limit === value >= limit)
    if (keepsSides || more >= MOST_DECIMALS) return text
  }
}

/** Decimals that show two digits of an uncertainty; at least none, and one where it is nought or unknown. */
function decimalsFor(U: number): number {
  if (!(U > 0) || !Number.isFinite(U)) return 1
  return Math.min(MOST_DECIMALS, Math.max(0, 1 - Math.floor(Math.log10(U))))
}

/** The largest figure of so many decimals that is not over `value`: `toFixed` rounds exactly, so one step down is enough. */
function downTo(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  return Number(text) > value ? (Number(text) - 10 ** -decimals).toFixed(decimals) : text
}

function upTo(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  return Number(text) < value ? (Number(text) + 10 ** -decimals).toFixed(decimals) : text
}
