/** The few parts of jstat 1.9.6 this project calls; the package brings no types of its own. */
declare module 'jstat' {
  interface Jstat {
    readonly normal: {
      inv(probability: number, mean: number, standardDeviation: number): number
      cdf(value: number, mean: number, standardDeviation: number): number
    }
    readonly studentt: {
      inv(probability: number, dof: number): number
    }
    readonly chisquare: {
      inv(probability: number, dof: number): number
    }
  }
  const jstat: { readonly jStat: Jstat }
  export = jstat
}
