import type { Contradiction } from './dataSheet.js'
import { CHANGES_OF_SIZE, lensSays } from './sentences.js'

/** The size a data sheet gives for the exported still, px. */
export interface ImageSize {
  readonly width: number
  readonly height: number
}

/**
 * Whether a still has the size its data sheet gives. Where not, densities are those of the still itself, so it must be told: the
 * still may be from a second stream, scaled, cropped or turned.
 */
export function stillAgainstSheet(sheet: ImageSize, still: ImageSize): Contradiction | null {
  if (still.width === sheet.width && still.height === sheet.height) return null
  const relative = still.width / sheet.width - 1
  return { ...lensSays['still-against-image'](still, sheet, kindOfChange(sheet, still)), relative }
}

function kindOfChange(sheet: ImageSize, still: ImageSize): string {
  if (still.width === sheet.height && still.height === sheet.width) return CHANGES_OF_SIZE.turned
  const across = still.width / sheet.width
  const down = still.height / sheet.height
  // A whole number of pixels on either side leaves the two factors apart by about one pixel.
  const onePixel = 1.5 / Math.min(still.width, still.height)
  return Math.abs(across / down - 1) <= onePixel ? CHANGES_OF_SIZE.scaled(across) : CHANGES_OF_SIZE.reshaped
}
