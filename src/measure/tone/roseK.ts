import { coverageFactor } from '../../math/quantiles.js'
import type { BoxSums } from './boxSums.js'
import { ROUNDING_NOISE_CODE } from './noise.js'
import type { SquareRoom } from './squareRoom.js'
import { squareScatter, type SquareScatter } from './squareScatter.js'
import type { RoseK } from '../stillMeasurement.js'

/** Fewer squares of an element's size tell no k: this project's convention. */
export const LEAST_SQUARES = 8
/** How much larger than the squares that find room an element may be, and what each doubling beyond them adds to k's relative u: this project's convention. */
const MOST_ENLARGEMENT = 4
const ENLARGEMENT_REL = 0.1

/** The even areas of a reference in a still, and its two levels. */
export interface RoseGround {
  /** Running sums of the code values. */
  readonly codes: BoxSums
  /** Room for squares clear of every border. */
  readonly room: SquareRoom
  /** 1 or 2: the class of each pixel. */
  readonly labels: Uint8Array
  /** Difference of the two levels, code values, and its standard uncertainty. */
  readonly contrastCode: number
  readonly contrastU: number
  /** Standard deviation of a pixel by second differences, code values. */
  readonly noiseCode: number
  /** The scatter of single pixels, null where there are fewer than 8. */
  readonly single: SquareScatter | null
  /** Whether the two levels were parted from noise; where not, the even areas hold strokes, and squares on them would call strokes noise. */
  readonly parted: boolean
}

/**
 * Rose's k of an element `elementPx` wide on the still: the levels' difference over the scatter of means over squares of the element's size, in code
 * values (where camera noise is even), neighbours' correlation included; under a pixel, a single pixel's scatter and the element's share of
 * its area. Where squares of that size find no room, smaller ones are taken and their scatter carried on as it falls from one size to the next.
 * Null under 8 squares. U is expanded, 95 %. Source: A. Rose, J. Opt. Soc. Am. 38 (1948) 196.
 */
export function roseK(ground: RoseGround, elementPx: number): RoseK | null {
  const wanted = Math.max(1, elementPx)
  const scattered = ground.parted ? squaresCarriedTo(ground, wanted) : whiteScatter(ground)
  if (scattered === null) return null
  // Squares that a split has chosen by their brightness scatter too little; white noise of the pixels' own size is the least there is.
  const scatter = Math.max(scattered.scatter, ground.noiseCode / wanted)
  const k = (ground.contrastCode / scatter) * Math.min(1, elementPx) ** 2
  const contrastU = (ground.contrastU / scatter) * Math.min(1, elementPx) ** 2
  return { k, U: coverageFactor(Infinity) * Math.hypot(k * scattered.rel, contrastU) }
}

/** The scatter of squares `wanted` px wide, code values, and its relative standard uncertainty. */
interface Scatter {
  readonly scatter: number
  readonly rel: number
}

function whiteScatter(ground: RoseGround): Scatter | null {
  const pixels = ground.room.places[1] ?? 0
  return pixels < LEAST_SQUARES ? null : { scatter: 0, rel: 1 / Math.sqrt(2 * pixels) }
}

function squaresCarriedTo(ground: RoseGround, wanted: number): Scatter | null {
  const { codes, room, labels, single } = ground
  if (single === null) return null
  let side = Math.round(wanted)
  let laid = side === 1 ? single : null
  for (; laid === null; side -= 1) {
    laid = side === 1 ? single : squareScatter(codes, room, labels, side, LEAST_SQUARES)
    if (laid !== null) break
  }
  if (wanted > MOST_ENLARGEMENT * side || (side === 1 && wanted >= 2)) return null
  const measured = Math.max(laid.scatter, ROUNDING_NOISE_CODE / side)
  // White noise falls as 1/side; noise that neighbours share falls more slowly, as seen from one pixel to this square.
  const fallen = Math.log(Math.max(single.scatter, ROUNDING_NOISE_CODE) / measured)
  const fall = side === 1 ? 1 : Math.min(1, Math.max(0, fallen / Math.log(side)))
  const enlargement = ENLARGEMENT_REL * Math.max(0, Math.log2(wanted / side))
  return {
    scatter: measured * (side / wanted) ** fall,
    rel: Math.hypot(1 / Math.sqrt(2 * laid.dof), enlargement),
  }
}
