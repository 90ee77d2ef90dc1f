import type { PixelRegion } from './raster.js'

/** How the stored picture is turned to be displayed: EXIF orientation 1 to 8 (EXIF 2.3, tag 0x0112). */
export type Orientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8

/** Whether rows and columns change places between the stored and the displayed picture. */
export function swapsSides(orientation: Orientation): boolean {
  return orientation >= 5
}

function mirrorsColumns(orientation: Orientation): boolean {
  return orientation === 2 || orientation === 3 || orientation === 7 || orientation === 8
}

function mirrorsRows(orientation: Orientation): boolean {
  return orientation === 3 || orientation === 4 || orientation === 6 || orientation === 7
}

/** The region of the stored picture (`storedWidth` x `storedHeight` px) that is displayed as `region`. */
export function storedRegion(
  region: PixelRegion,
  orientation: Orientation,
  storedWidth: number,
  storedHeight: number,
): PixelRegion {
  const swapped = swapsSides(orientation)
  const width = swapped ? region.height : region.width
  const height = swapped ? region.width : region.height
  const left = swapped ? region.top : region.left
  const top = swapped ? region.left : region.top
  return {
    left: mirrorsColumns(orientation) ? storedWidth - left - width : left,
    top: mirrorsRows(orientation) ? storedHeight - top - height : top,
    width,
    height,
  }
}

/** Interleaved samples, as decoded. */
export type Samples = Uint8Array | Uint16Array

/** Turns the decoded samples of a stored region (`width` x `height` px) into the order they are displayed in, row by row. */
export function turnedSamples(
  samples: Samples,
  width: number,
  height: number,
  channels: number,
  orientation: Orientation,
): Samples {
  if (orientation === 1) return samples
  const turned =
    samples instanceof Uint16Array ? new Uint16Array(samples.length) : new Uint8Array(samples.length)
  const swapped = swapsSides(orientation)
  const displayedWidth = swapped ? height : width
  for (let row = 0; row < height; row++) {
    const v = mirrorsRows(orientation) ? height - 1 - row : row
    for (let column = 0; column < width; column++) {
      const u = mirrorsColumns(orientation) ? width - 1 - column : column
      const to = (swapped ? u * displayedWidth + v : v * displayedWidth + u) * channels
      const from = (row * width + column) * channels
      for (let channel = 0; channel < channels; channel++) turned[to + channel] = samples[from + channel]!
    }
  }
  return turned
}
