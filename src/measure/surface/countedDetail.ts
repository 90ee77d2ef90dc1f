import type { Sharpness, StillMeasurement } from '../stillMeasurement.js'

/** Area under the low-contrast response from which every pixel counts, cycles per px: a stroke of two pixels has A w of 0.2. This project's measurement on simulated stills. */
const FULL_AREA = 0.1

/** The share of a still's pixels that counts as detail, with its expanded uncertainty (95 %). */
export type CountedDetail = Pick<Sharpness, 'factor' | 'factorU'>

/**
 * The area under the low-contrast response over what is asked, with its relative expanded uncertainty, where strips told it; null where they did not. The bars show detail along them alone: where
 * edges show less across, it falls by as much.
 */
export function stripShare({
  strip,
  sharpness,
  density: { horizontal },
}: Pick<StillMeasurement, 'strip' | 'sharpness' | 'density'>): { share: number; rel: number } | null {
  if (strip === null || strip === undefined || horizontal === null) return null
  if (!(strip.a > 0)) return { share: 0, rel: 0 }
  const [along, across] = [sharpness?.horizontal.mtf10 ?? 1, sharpness?.vertical.mtf10 ?? 1]
  return { share: (Math.min(1, across / along) * strip.a) / horizontal / FULL_AREA, rel: strip.aU / strip.a }
}

/** The share of a still's pixels that counts as detail: by its strips where they were read, else by its edges; null where neither tells. */
export function countedDetail(
  measurement: Pick<StillMeasurement, 'strip' | 'sharpness' | 'density'>,
): CountedDetail | null {
  const told = stripShare(measurement)
  return told === null ? measurement.sharpness : countedShare(told)
}

/** What strips showed as a share of the pixels: never more than all. */
export function countedShare({
  share,
  rel,
}: {
  readonly share: number
  readonly rel: number
}): CountedDetail {
  const [factor, low, high] = [0, -1, 1].map((end) => Math.min(1, Math.max(0, share * (1 + end * rel))))
  return { factor: factor!, factorU: Math.max(factor! - low!, high! - factor!) }
}
