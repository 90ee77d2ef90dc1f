/**
 * The fewest px per module at which the finder still finds the chart held within 30 degrees of square: this project's measurement on
 * simulated stills (12 of 12 found, bench/chartTable.ts). `day` is sharp and even, `night` noisy and of low contrast.
 */
export const LEAST_PX_PER_MODULE = { day: 1.5, night: 2.5 } as const

/** What the finder needs in a light: only `day`, and lights named after it, are taken to be as good as day. */
export function leastPxPerModule(light: string): number {
  return /^day(?![\p{L}\p{N}])/u.test(light) ? LEAST_PX_PER_MODULE.day : LEAST_PX_PER_MODULE.night
}
