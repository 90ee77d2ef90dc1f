import type { Contradiction } from './dataSheet.js'

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
  const sizes = `the still has ${still.width} x ${still.height} px, the data sheet says ${sheet.width} x ${sheet.height}`
  const relative = still.width / sheet.width - 1
  return {
    code: 'still-against-image',
    message: `${sizes}: ${kindOfChange(sheet, still)}; the still is gone on with`,
    relative,
  }
}

function kindOfChange(sheet: ImageSize, still: ImageSize): string {
  if (still.width === sheet.height && still.height === sheet.width) return 'it is turned on its side'
  const across = still.width / sheet.width
  const down = still.height / sheet.height
  // A whole number of pixels on either side leaves the two factors apart by about one pixel.
  const onePixel = 1.5 / Math.min(still.width, still.height)
  if (Math.abs(across / down - 1) <= onePixel) {
    return across < 1
      ? `it is scaled down or a second stream (${across.toFixed(2)} times)`
      : `it is scaled up (${across.toFixed(2)} times)`
  }
  return 'its shape differs, so it is cropped, or its pixels are not square'
}
