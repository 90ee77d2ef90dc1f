import type { Raster } from '../../still/raster.js'

/** A strong edge says nothing of a rhythm; capped, it does not outweigh the noise beside it. Code values squared. */
const MOST_SQUARE = 400
/** Under this a difference is rounding, code values squared: this project's convention. */
const LEAST_DIFFERENCE_SQUARE = 0.35
/** So many lines of so many places show a rhythm: those of a larger raster are passed over, and places beyond its middle left out. */
const ENOUGH_LINES = 48
const ENOUGH_PLACES = 192

/** Mean squares of differences, code values squared, one for each place: of neighbours, and of a pixel against its two neighbours. */
interface DifferenceProfile {
  readonly first: Float64Array
  readonly second: Float64Array
}

/** A raster's differences along its rows and along its columns. */
export interface RasterDifferences {
  readonly alongRows: DifferenceProfile
  readonly alongColumns: DifferenceProfile
}

/** The differences both ways. Interpolation leaves its rhythm in the first or in the second, according to where it lays its pixels. */
export function rasterDifferences(raster: Raster): RasterDifferences {
  return { alongRows: differenceProfile(raster, true), alongColumns: differenceProfile(raster, false) }
}

function differenceProfile(raster: Raster, alongRows: boolean): DifferenceProfile {
  const { width, height, data } = raster
  const length = alongRows ? width : height
  const count = alongRows ? height : width
  const step = alongRows ? 1 : width
  const lineStep = alongRows ? width : 1
  const places = Math.max(0, Math.min(length, ENOUGH_PLACES + 2) - 2)
  const start = (length - places - 2) >> 1
  const every = Math.max(1, Math.floor(count / ENOUGH_LINES))
  const first = new Float64Array(places)
  const second = new Float64Array(places)
  let lines = 0
  for (let line = every >> 1; line < count; line += every) {
    let at = line * lineStep + start * step
    let before = places > 0 ? data[at + step]! - data[at]! : 0
    for (let place = 0; place < places; place += 1) {
      at += step
      const next = data[at + step]! - data[at]!
      const bend = next - before
      const square = before * before
      const bendSquare = bend * bend
      first[place]! += square < MOST_SQUARE ? square : MOST_SQUARE
      second[place]! += bendSquare < MOST_SQUARE ? bendSquare : MOST_SQUARE
      before = next
    }
    lines += 1
  }
  for (let place = 0; place < places; place += 1) {
    first[place]! /= lines
    second[place]! /= lines
  }
  return { first, second }
}

/** JPEG's blocks are so many px wide. */
const BLOCK_PX = 8

/** The median of every `step`-th value from `from` on. */
function medianEvery(profile: Float64Array, from: number, step: number): number {
  const taken = new Float64Array(Math.ceil((profile.length - from) / step))
  for (let i = 0; i < taken.length; i += 1) taken[i] = profile[from + i * step]!
  return taken.sort()[taken.length >> 1]!
}

/**
 * Whether a profile keeps a rhythm of 2 to 6 places: the weakest phase (the median of its mean squares) is under `mostShare` of the strongest, which
 * is more than rounding, and weak and strong places stay apart until blocks and rhythm have come round, so that a rhythm of JPEG blocks (8 px) is not taken for it.
 * Not told of a profile shorter than two such rounds.
 */
export function keepsRhythm(profile: Float64Array, period: 2 | 3 | 4 | 5 | 6, mostShare: number): boolean {
  const round = period === 5 ? 5 * BLOCK_PX : 3 * BLOCK_PX
  if (profile.length < 2 * round) return false
  const phases: number[] = []
  for (let phase = 0; phase < period; phase += 1) phases.push(medianEvery(profile, phase, period))
  const weakest = Math.min(...phases)
  const strongest = Math.max(...phases)
  if (strongest < LEAST_DIFFERENCE_SQUARE || weakest >= mostShare * strongest) return false
  return staysApart(profile, phases, round)
}

/** Whether the strongest of a round's places of the weakest phase is still weaker than the weakest of those of the strongest phase. */
function staysApart(profile: Float64Array, phases: readonly number[], round: number): boolean {
  const [weak, strong] = [Math.min(...phases), Math.max(...phases)].map((phase) => phases.indexOf(phase))
  const places = (phase: number): number[] =>
    Array.from({ length: round / phases.length }, (_, k) =>
      medianEvery(profile, phase + k * phases.length, round),
    )
  return Math.max(...places(weak!)) < Math.min(...places(strong!))
}
