import { tQuantile } from './quantiles.js'

/**
 * The k of an expanded uncertainty U = k u at 95 %: Student's t at 97.5 % for `dof` degrees of freedom (JCGM 100:2008, G.3),
 * and the customary k = 2 (JCGM 100, 6.3.3) where `dof` is Infinity.
 */
export function coverageFactor(dof: number): number {
  return dof === Infinity ? 2 : tQuantile(0.975, dof)
}
