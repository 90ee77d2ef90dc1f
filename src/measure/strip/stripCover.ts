import type { SeenStrip } from './seenStrip.js'
import type { StripReading } from './readStrip.js'

/** Fields a strip is looked over in, along it; each over its full height. */
const FIELDS = 12
// This project's convention: a field's mean light off what the pattern has there, as a share of paper's, and its swing over that of the pattern.
const MOST_OFF = 0.12
const LEAST_SWING = 0.4
const MOST_NOISES = 4
/** A field of one wide bar or gap has no swing to lose. */
const LEAST_PATTERN = 0.15

/**
 * Whether something lies over part of a strip: the mean light of a field is far from what the pattern has there, noise allowed for, or (black bars alone: a codec may drop faint ones)
 * the pattern is not in it.
 */
export function isCovered(
  { pixels: { x, light }, frame: { sheet } }: SeenStrip,
  { left, whole }: StripReading,
  isBlack: boolean,
): boolean {
  const fields = Array.from({ length: FIELDS }, () => ({
    left: 0,
    model: 0,
    squares: 0,
    product: 0,
    count: 0,
  }))
  left.forEach((off, at) => {
    const share = (x[at]! - sheet.left) / (sheet.right - sheet.left)
    const field = fields[Math.min(FIELDS - 1, Math.max(0, Math.floor(share * FIELDS)))]!
    const model = light[at]! - off
    field.left += off
    field.model += model
    field.squares += model * model
    field.product += model * off
    field.count += 1
  })
  const noise = Math.sqrt(left.reduce((sum, off) => sum + off * off, 0) / left.length)
  return fields.some((field) => {
    const squares = field.squares - field.model ** 2 / field.count
    const swing = 1 + (field.product - (field.model * field.left) / field.count) / squares
    const most = MOST_OFF * whole.level + (MOST_NOISES * noise) / Math.sqrt(field.count)
    const hasBars = squares > (LEAST_PATTERN * whole.level) ** 2 * field.count
    return Math.abs(field.left / field.count) > most || (isBlack && hasBars && swing < LEAST_SWING)
  })
}
