import { lumaOf } from '../still/luma.js'
import type { StillFile } from '../still/openStill.js'
import type { PixelRegion } from '../still/raster.js'

/** A still, or a region of it, reduced to register it by: luma codes, row by row, and what of the still it shows, px. */
export interface ScenePicture {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
  readonly shown: PixelRegion
}

/**
 * A still, or a region of it, reduced to `width` px, or as it is where the still is no wider.
 * @throws `ProofwalkError` `still-damaged` where its pixels are spoilt
 */
export async function scenePicture(
  still: Pick<StillFile, 'width' | 'height' | 'reduced'>,
  width: number,
  region: PixelRegion | null = null,
): Promise<ScenePicture> {
  const shown = region ?? { left: 0, top: 0, width: still.width, height: still.height }
  const across = Math.min(width, still.width)
  const down = Math.max(1, Math.round((still.height * across) / still.width))
  const luma = lumaOf(await still.reduced(across, down, region), 3, 255)
  const data = new Uint8Array(luma.length)
  // A loop: `Uint8Array.from` with a function takes thirty times as long.
  for (let at = 0; at < data.length; at++) data[at] = Math.round(luma[at]!)
  return { width: across, height: down, data, shown }
}
