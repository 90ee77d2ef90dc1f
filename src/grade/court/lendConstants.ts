import { expandedOf } from '../range/expandedOf.js'
import type { LentConstant, RangeFit } from '../range/rangeFit.js'
import type { Series } from '../range/series.js'
import type { AlikeLights } from '../scene/sceneEvidence.js'

/** A constant is lent where its uncertainty is less than this share of the light's own. This project's convention. */
const CLEARLY_BETTER = 0.9

/**
 * The series of a walk of which no mark contradicts another, each with another light's constant where the same reference stood at more marks there, nothing moved
 * between the two, and that one is clearly better known (of two as long walks the better known is now and then so by accident). One of two is taken and not their mean: what their errors share (where the tape begins, the reference's size) is not known, and
 * an interval that holds by itself then holds still.
 */
export function lendConstants(series: readonly Series[], alike: readonly AlikeLights[]): Series[] {
  return series.map((borrower): Series => {
    const own = borrower.fit
    if (own === null || !agrees(own)) return borrower
    const lenders = series
      .filter(({ reference, fit }) => reference === borrower.reference && fit !== null && agrees(fit))
      .filter(({ fit }) => fit!.marks.length > own.marks.length)
      .flatMap(({ light, fit }) =>
        pairsOf(light, borrower.light, alike).map((scale): LentConstant => ({ light, fit: fit!, ...scale })),
      )
    const [best] = lenders.toSorted((a, b) => uncertaintyOf(a) - uncertaintyOf(b))
    if (best === undefined || !isBetter(best, own)) return borrower
    return { ...borrower, fit: { ...own, lent: best } }
  })
}

/** Whether the marks of a fit agree with one another. */
function agrees({ suspect, widening, otherwise }: RangeFit): boolean {
  return suspect === null && widening === 1 && otherwise.length === 0
}

/** By how much larger the scene is in the one light than in the other, where that is told. */
function pairsOf(
  from: string,
  to: string,
  alike: readonly AlikeLights[],
): Pick<AlikeLights, 'logScale' | 'U'>[] {
  return alike.flatMap(({ light, against, logScale, U }) => {
    if (light === to && against === from) return [{ logScale, U }]
    return light === from && against === to ? [{ logScale: 0 - logScale, U }] : []
  })
}

/** Whether a lent constant is clearly better known than a fit's own, and they agree. */
function isBetter(lent: LentConstant, own: RangeFit): boolean {
  const off = lent.fit.constant.logConstant + lent.logScale - own.constant.logConstant
  const [its, ours] = [uncertaintyOf(lent), ofConstant(own)]
  return its < CLEARLY_BETTER * ours && Math.abs(off) <= Math.hypot(its, ours)
}

function uncertaintyOf({ fit, U }: LentConstant): number {
  return Math.hypot(ofConstant(fit), U)
}

/** Expanded uncertainty of ln F, 95 %. */
function ofConstant(fit: RangeFit): number {
  return expandedOf(
    fit,
    fit.constant.priorWeights.map((_, k) => (k === 0 ? 1 : 0)),
  )
}
