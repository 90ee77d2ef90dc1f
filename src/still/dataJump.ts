import { median } from '../math/median.js'

/** A picture of a JPEG's block means: interleaved samples, row by row, `channels` 1 (grey) or 3 and more (RGB first). */
export interface BlockMeans {
  readonly samples: Uint8Array
  readonly channels: number
  readonly width: number
  readonly height: number
}

/** How many block means across and down share one unit of coded data. */
export interface CodedUnit {
  readonly width: number
  readonly height: number
}

/** A jump is told from so many code values on, and where all parts of it agree to this share of it, or so many code values. This project's convention. */
const LEAST_JUMP = 4
const AGREES_SHARE = 0.25
const AGREES_CODE = 1.5
/** Units that must lie on either side of where it begins, at least, and as a share of a row: a step along a whole row may be the scene's. */
const LEAST_UNITS = 4
const LEAST_SHARE = 0.06
const WINDOWS = 3
/** Means may be led astray by single units by so much more. */
const LIKELY_SHARE = 0.6

/**
 * Whether a JPEG's data jump: a spoilt number shifts all blocks after it by the same amount, from the middle of one row of units on (each is coded as its difference from the one
 * before: ITU-T T.81, F.1.1.5.1). So the step down lies above the row to the right of that place, and below it to its left, which no scene does. The row of units, from 0, or null.
 */
export function dataJump(means: BlockMeans, unit: CodedUnit): number | null {
  for (const plane of planesOf(means)) {
    const row = jumpIn(stepsDown(plane, means, unit))
    if (row !== null) return row
  }
  return null
}

/** Luma, and for colours how far blue and red lie from it (BT.601), 8-bit code values. */
function planesOf({ samples, channels }: BlockMeans): readonly Float32Array[] {
  const pixels = Math.floor(samples.length / channels)
  if (channels < 3) return [Float32Array.from({ length: pixels }, (_, at) => samples[at * channels]!)]
  const [luma, blue, red] = [new Float32Array(pixels), new Float32Array(pixels), new Float32Array(pixels)]
  for (let at = 0, from = 0; at < pixels; at++, from += channels) {
    const [r, g, b] = [samples[from]!, samples[from + 1]!, samples[from + 2]!]
    const y = 0.299 * r + 0.587 * g + 0.114 * b
    luma[at] = y
    blue[at] = b - y
    red[at] = r - y
  }
  return [luma, blue, red]
}

/** By how much each unit's top lies over the foot of the unit above it, more than light that slopes goes on by, where units are two means high; none where rows are missing for it. */
function stepsDown(plane: Float32Array, { width, height }: BlockMeans, unit: CodedUnit): Float32Array[] {
  const [rows, columns] = [Math.floor(height / unit.height), Math.floor(width / unit.width)]
  return Array.from({ length: rows }, (_, row) => {
    const steps = new Float32Array(columns)
    const below = row * unit.height * width
    if (row === 0 || below + 2 * width > plane.length) return steps
    for (let at = 0; at < columns * unit.width; at++) {
      const top = plane[below + at]!
      const foot = plane[below + at - width]!
      const slope =
        unit.height > 1 ? (foot - plane[below + at - 2 * width]! + plane[below + at + width]! - top) / 2 : 0
      steps[Math.floor(at / unit.width)]! += (top - foot - slope) / unit.width
    }
    return steps
  })
}

function jumpIn(steps: readonly Float32Array[]): number | null {
  const columns = steps[0]?.length ?? 0
  const least = Math.max(LEAST_UNITS, Math.ceil(LEAST_SHARE * columns))
  for (let row = 1; row + 1 < steps.length; row++) {
    const [above, below] = [steps[row]!, steps[row + 1]!]
    const total = above.reduce((sum, step) => sum + step, 0)
    const totalBelow = below.reduce((sum, step) => sum + step, 0)
    let [left, leftBelow] = [0, 0]
    for (let from = 1; from <= columns - least; from++) {
      left += above[from - 1]!
      leftBelow += below[from - 1]!
      if (from < least) continue
      // Means, which cost nothing, rule out nearly all places.
      const one = (total - left) / (columns - from)
      const other = leftBelow / from
      const most = LIKELY_SHARE * Math.min(Math.abs(one), Math.abs(other))
      if (one * other <= 0 || most < (LIKELY_SHARE * LEAST_JUMP) / 2) continue
      const beside = Math.max(Math.abs(left / from), Math.abs((totalBelow - leftBelow) / (columns - from)))
      if (Math.abs(one - other) > most || beside > most) continue
      const jump = jumpAt(above, below, from)
      if (jump !== null && isAlone(steps, row, from, jump)) return row
    }
  }
  return null
}

/** The step that lies from unit `from` on above a row and before it below the row, one and the same in all parts, and none elsewhere; null where there is no such. */
function jumpAt(above: Float32Array, below: Float32Array, from: number): number | null {
  const step = stepAlong(above, below, from)
  if (Math.abs(step.middle) < LEAST_JUMP) return null
  const most = Math.max(AGREES_CODE, AGREES_SHARE * Math.abs(step.middle))
  const beside = [...windowed(above.subarray(0, from)), ...windowed(below.subarray(from))]
  const isOne = step.parts.every((part) => Math.abs(part - step.middle) <= most)
  return isOne && beside.every((part) => Math.abs(part) <= most) ? step.middle : null
}

/** A beam or a board with a step in it goes back within so many rows. */
const ROWS_ALONE = 4

function isAlone(steps: readonly Float32Array[], row: number, from: number, jump: number): boolean {
  for (
    let other = Math.max(1, row - ROWS_ALONE);
    other <= row + ROWS_ALONE && other + 1 < steps.length;
    other++
  ) {
    const { middle } = stepAlong(steps[other]!, steps[other + 1]!, from)
    if (middle * Math.sign(jump) < -Math.abs(jump) / 3) return false
  }
  return true
}

/** Medians of the parts of the line that begins above a row at unit `from` and goes on below the next one's beginning, and their middle. */
function stepAlong(above: Float32Array, below: Float32Array, from: number) {
  const parts = [...windowed(above.subarray(from)), ...windowed(below.subarray(0, from))]
  return { parts, middle: median(parts) }
}

/** Medians of a stretch's parts. */
function windowed(stretch: Float32Array): number[] {
  const parts = Math.min(WINDOWS, stretch.length)
  return Array.from({ length: parts }, (_, part) =>
    median([
      ...stretch.subarray(
        Math.floor((part * stretch.length) / parts),
        Math.floor(((part + 1) * stretch.length) / parts),
      ),
    ]),
  )
}
