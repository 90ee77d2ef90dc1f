import type { Point } from '../../math/point.js'
import type { Raster } from '../../still/raster.js'
import { BLACK_CODE } from '../tone/clipping.js'

/** A dark border or rim lies nearer than this share of a reference's height to its top and bottom. This project's convention. */
const INNER_SHARE = 0.15
/** The other rows are this bright at least, in the mean, code values: what is dark throughout may be black in a row by chance. This project's convention. */
const LEAST_MEAN_CODE = 16

/**
 * How many rows of a raster are wholly black though they cross the inside of a reference whose other rows are bright: a file without a check of its data, part of which was
 * lost as noughts, decodes so. No reference shows such rows: each has light ground from side to side. `corners` are image coordinates, px.
 */
export function missingRows({ left, top, width, height, data }: Raster, corners: readonly Point[]): number {
  const ys = corners.map(([, y]) => y - top)
  const [highest, lowest] = [Math.min(...ys), Math.max(...ys)]
  const margin = INNER_SHARE * (lowest - highest)
  const first = Math.max(0, Math.ceil(highest + margin))
  const end = Math.min(height, Math.floor(lowest - margin))
  const xs = corners.map(([x]) => x - left)
  if (!(first < end) || Math.min(...xs) >= width || Math.max(...xs) <= 0) return 0
  let [black, sum] = [0, 0]
  for (let j = first; j < end; j += 1) {
    const row = data.subarray(j * width, (j + 1) * width)
    if (row.every((code) => code <= BLACK_CODE)) black += 1
    else sum += row.reduce((total, code) => total + code, 0)
  }
  return black < end - first && sum / width / (end - first - black) >= LEAST_MEAN_CODE ? black : 0
}
