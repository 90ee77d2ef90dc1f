import jstat from 'jstat'

/** The share of the standard normal distribution below `z`, as jstat computes it: a witness beside our own `normalIntegral`. */
export function normalCdf(z: number): number {
  return jstat.jStat.normal.cdf(z, 0, 1)
}
