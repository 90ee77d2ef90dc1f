import jstat from 'jstat'
import { fault } from '../sentences.js'
import { mathSays } from './sentences.js'

const { normal, studentt, chisquare } = jstat.jStat

/** The value below which a share `p` (0 < p < 1) of the standard normal distribution lies. */
export function normalQuantile(p: number): number {
  requireProbability(p)
  return normal.inv(p, 0, 1)
}

/** Student's t: the value below which a share `p` lies at `dof` > 0 degrees of freedom, Infinity being the normal. */
export function tQuantile(p: number, dof: number): number {
  requireProbability(p)
  requirePositive(dof)
  return dof === Infinity ? normal.inv(p, 0, 1) : studentt.inv(p, dof)
}

/** Chi-square: the value below which a share `p` lies at `dof` > 0 degrees of freedom. */
export function chi2Quantile(p: number, dof: number): number {
  requireProbability(p)
  requirePositive(dof)
  return chisquare.inv(p, dof)
}

function requireProbability(p: number): void {
  if (!(p > 0 && p < 1)) throw fault(mathSays['no-probability'](p))
}

function requirePositive(value: number): void {
  if (!(value > 0)) throw fault(mathSays['not-positive'](value))
}

/**
 * The k of an expanded uncertainty U = k u at 95 %: Student's t at 97.5 % for `dof` degrees of freedom (JCGM 100:2008, G.3),
 * and the customary k = 2 (JCGM 100, 6.3.3) where `dof` is Infinity.
 */
export function coverageFactor(dof: number): number {
  return dof === Infinity ? 2 : tQuantile(0.975, dof)
}
