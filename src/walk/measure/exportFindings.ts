import { groupBy } from '../../math/groupBy.js'
import type { Problem, StillMeasurement } from '../../measure/stillMeasurement.js'
import { problem } from '../../sentences.js'
import { measuringSays } from './sentences.js'
import { countStills } from '../schemas/resultsSchema.js'

/** A measured still, as far as its export goes. */
export interface ExportedStill {
  readonly file: string
  readonly measurement: Pick<StillMeasurement, 'width' | 'height' | 'sharpness'>
}

/** An original that was not scaled shows detail about this fine (f10, cycles/px), so half of it is an export scaled up twice. This project's convention. */
const USUAL_F10 = 0.42
/** A best f10 under this over a whole walk is told: two thirds of the usual. This project's convention. */
const LEAST_F10 = 0.28
/** On fewer stills a walk's detail is not judged. */
const LEAST_STILLS = 3

/**
 * What the stills of a walk betray of how they were exported: not all of one size, or all with far less detail than their size. `apart` are the files that do
 * not count for their size.
 */
export function exportFindings(
  stills: readonly ExportedStill[],
  apart: readonly string[] = [],
): readonly Problem[] {
  const counted = stills.filter(({ file }) => !apart.includes(file))
  return [sizesDiffer(stills, apart), detailUnderSize(counted)].filter((finding) => finding !== null)
}

function sizesDiffer(stills: readonly ExportedStill[], apart: readonly string[]): Problem | null {
  const bySize = groupBy(
    [...new Map(stills.map((still) => [still.file, still])).values()],
    ({ measurement }) => `${measurement.width} x ${measurement.height} px`,
  )
  if (bySize.size < 2) return null
  const [most, ...others] = [...bySize].sort((a, b) => b[1].length - a[1].length)
  const told = others.map(([size, files]) => `${files.length} of ${size} (${files[0]!.file})`)
  return problem(measuringSays['export-sizes-differ'](most![0], most![1].length, told, apart))
}

function detailUnderSize(stills: readonly ExportedStill[]): Problem | null {
  const sharp = stills.flatMap(({ file, measurement }) =>
    measurement.sharpness === null ? [] : [{ file, ...measurement }],
  )
  if (countStills(sharp) < LEAST_STILLS) return null
  const best = Math.max(
    ...sharp.map(({ sharpness }) => Math.max(sharpness!.horizontal.mtf10, sharpness!.vertical.mtf10)),
  )
  if (!(best < LEAST_F10)) return null
  const { width, height } = sharp[0]!
  const holding = [width, height].map((px) => 10 * Math.round(((best / USUAL_F10) * px) / 10))
  return problem(measuringSays['detail-under-size'](best, holding.join(' x '), `${width} x ${height}`))
}
