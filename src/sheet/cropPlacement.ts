import type { PixelRegion } from '../still/raster.js'
import type { PictureWindow } from './pictures/cropPlan.js'

/** Where a picture of `region` goes in a cell that shows `window`, points from the cell's top left corner. */
export function cropPlacement(
  window: PictureWindow,
  region: PixelRegion,
  cell: { readonly widthPt: number; readonly heightPt: number },
): PictureWindow {
  const perPx = cell.widthPt / window.width
  return {
    left: (region.left - window.left) * perPx,
    top: (region.top - window.top) * (cell.heightPt / window.height),
    width: region.width * perPx,
    height: region.height * (cell.heightPt / window.height),
  }
}
