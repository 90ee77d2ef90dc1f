import type { RoseK, StripDetail, StripFigure } from '../stillMeasurement.js'
import { figureOf } from './stripFigures.js'

/** What the strips of one mark's stills tell together. */
export type PooledStrips = Pick<StripDetail, 'a' | 'aU' | 'k'>

/**
 * Pools the strips of stills of one mark: means, and their U from what leaving out the same piece of the strip in all stills does to them. So noise of the stills' own
 * averages out, and what they have in common (the recorder takes the same bars away in each) does not. Never under twice the standard error of the stills' own
 * scatter; what is open in the print stays whole.
 */
export function poolStrips(strips: readonly StripDetail[]): PooledStrips {
  if (strips.length === 1) return strips[0]!
  const a = pooled(strips, (strip, left) => (left === null ? strip.a : strip.pieces[left]!.a))
  const print = meanOf(strips.map((strip) => printU(strip)))
  const k = Object.fromEntries(
    Object.entries(strips[0]!.k).map(([gradeId, { least }]): [string, RoseK] => {
      const { value, U } = pooled(strips, (strip, left) =>
        left === null ? strip.k[gradeId]!.k : strip.pieces[left]!.k[gradeId]!,
      )
      return [gradeId, { k: value, U, least }]
    }),
  )
  return { a: a.value, aU: Math.hypot(a.U, print), k }
}

function pooled(
  strips: readonly StripDetail[],
  of: (strip: StripDetail, left: number | null) => number,
): StripFigure {
  const { value, U } = figureOf((left) => meanOf(strips.map((strip) => of(strip, left))))
  const n = strips.length
  const squares = strips.reduce((sum, strip) => sum + (of(strip, null) - value) ** 2, 0)
  return { value, U: Math.max(U, 2 * Math.sqrt(squares / (n - 1) / n)) }
}

/** What of a still's U of A its pieces do not show. */
function printU(strip: StripDetail): number {
  const { U } = figureOf((left) => (left === null ? strip.a : strip.pieces[left]!.a))
  return Math.sqrt(Math.max(0, strip.aU ** 2 - U ** 2))
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length
