/** A 95 % interval; `low` <= `high`. */
export interface Interval {
  readonly low: number
  readonly high: number
}

/** A value with its 95 % interval; without a low end it is an upper bound. */
export interface MaybeBound {
  readonly value: number
  readonly low: number | null
  readonly high: number
}

/** A value with its 95 % interval, which need not be symmetric. */
export interface Estimate extends Interval {
  readonly value: number
}
