/** A mapping from data to points on the page, with the ticks that name it. */
export interface PlotScale {
  readonly low: number
  readonly high: number
  readonly ticks: readonly number[]
  at(value: number): number
}

const STEPS = [1, 2, 5]

/** From zero to a little over `highest`, evenly divided; about `most` ticks at 1, 2 or 5 times a power of ten. */
export function evenScale(highest: number, fromPt: number, toPt: number, most: number): PlotScale {
  const high = highest * 1.06
  const power = 10 ** Math.floor(Math.log10(high / most))
  const step = power * ([...STEPS, 10].find((s) => high / (s * power) <= most) ?? 10)
  const ticks: number[] = []
  for (let index = 0; index * step <= high; index++) ticks.push(Number((index * step).toPrecision(6)))
  return { low: 0, high, ticks, at: (value) => fromPt + (value / high) * (toPt - fromPt) }
}

/** Logarithmic from `low` to `high` (both over zero), ticks at 1, 2 and 5 times each power of ten. */
export function logScale(low: number, high: number, fromPt: number, toPt: number): PlotScale {
  const ticks: number[] = []
  for (let power = Math.floor(Math.log10(low)); power <= Math.ceil(Math.log10(high)); power++) {
    for (const step of STEPS) {
      const tick = Number((step * 10 ** power).toPrecision(3))
      if (tick >= low && tick <= high) ticks.push(tick)
    }
  }
  const span = Math.log(high / low)
  return { low, high, ticks, at: (value) => fromPt + (Math.log(value / low) / span) * (toPt - fromPt) }
}
