import jstat from 'jstat'
import { ProofwalkError } from '../errors.js'

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
  if (!(p > 0 && p < 1))
    throw new ProofwalkError('bad-argument', `a probability is between 0 and 1, not ${p}`)
}

function requirePositive(value: number): void {
  if (!(value > 0)) throw new ProofwalkError('bad-argument', `a positive number is needed, not ${value}`)
}
