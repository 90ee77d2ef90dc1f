import { failure, type Outcome, success } from '../math/outcome.js'
import type { CameraLens } from '../lens/cameraLens.js'
import { type ImageSize, stillAgainstSheet } from '../lens/stillAgainstSheet.js'
import type { Raster, StillPixels } from '../still/raster.js'
import { blocksOf } from '../still/samePicture.js'
import { stillSays } from '../still/sentences.js'
import { roundNumbers } from '../units/roundNumbers.js'
import { measureDensity } from './density/density.js'
import type { MeasuredDensity } from './density/measuredDensity.js'
import { smear } from './surface/smear.js'
import { countedDetail } from './surface/countedDetail.js'
import { effectiveDensity } from './surface/effectiveDensity.js'
import { chartSurface } from './chart/chartSurface.js'
import type { MeasuredChart } from './chart/measureChart.js'
import type { Pick as PointPick } from './reference/pick.js'
import { isChart, type Reference } from './reference/reference.js'
import { regionNeeded } from './regionNeeded.js'
import { stripsBeside } from './strip/stripsBeside.js'
import type { Quad } from '../math/point.js'
import { missingRows } from './surface/missingRows.js'
import { measureSurface, type Surface } from './surface/surface.js'
import type { Problem, StillMeasurement, ToneElement } from './stillMeasurement.js'

/** What a still is measured against. */
export interface StillContext {
  readonly reference: Reference
  readonly pick: PointPick
  /** What a chart that was found in the still tells; the pick is then its own. */
  readonly chart?: MeasuredChart | null
  /** Line of sight to the reference, metres, where it is known: it sizes the bend of the lens. */
  readonly distanceM?: number | null
  /** The lens, where one is known: gives pose and facing density. */
  readonly lens?: CameraLens | null
  /** The elements that must stand out, one a grade. */
  readonly elements: readonly ToneElement[]
  /** f10 in cycles/px from which every pixel counts. */
  readonly fullDetailAt: number
  /** Size the data sheet gives the still, px. */
  readonly promisedSize?: ImageSize | null
}

/**
 * Measures one still: how many pixels fall on a metre of the reference, how much of that is real detail, and whether contrast survives.
 * Points are image coordinates in px, (0,0) the outer corner of the top-left pixel; densities px/m. Only the region around the reference
 * is decoded. Fails, by name, where the points are no outline of the reference, and where rows of pixels are missing across it.
 * @throws `ProofwalkError` `bad-argument` where the pick's sigma or covariance is none; what reading the pixels throws
 */
export async function measureStill(
  still: StillPixels,
  context: StillContext,
): Promise<Outcome<StillMeasurement>> {
  const density = measureDensity(context.reference, context.pick, {
    stillWidth: still.width,
    stillHeight: still.height,
    distanceM: context.distanceM ?? null,
    lens: context.lens ?? null,
  })
  if (!density.ok) return density

  // Rounded as files keep it, so that whoever reads it there comes to the same measurement.
  const blocks: string[] = []
  const gone: number[] = []
  const look = (raster: Raster): void => {
    blocks.push(...blocksOf(raster))
    if (context.reference.kind !== 'length') gone.push(missingRows(raster, density.value.corners))
  }
  const seen = withSmear(await surfaceOf(watched(still, look), context, density.value))
  const rowsGone = Math.max(0, ...gone)
  if (rowsGone > 0) return failure(stillSays['still-rows-missing'](rowsGone))
  const surface = roundNumbers(await withStrips(seen, still, context, density.value))
  return success({ ...measurementOf(still, context, density.value, surface), blocks })
}

/** The still, whose pixels are looked at as they are asked for: no more is decoded for that. */
function watched(still: StillPixels, look: (raster: Raster) => void): StillPixels {
  return {
    width: still.width,
    height: still.height,
    bitDepth: still.bitDepth,
    async region(asked) {
      const raster = await still.region(asked)
      look(raster)
      return raster
    },
  }
}

/** The measurement that density and surface make: what follows from them without a look at the pixels. Sizes in px, densities px/m. */
export function measurementOf(
  { width, height }: ImageSize,
  { pick, promisedSize = null }: Pick<StillContext, 'pick' | 'promisedSize'>,
  measured: MeasuredDensity,
  { sharpness, tone, strip, problems }: Surface,
): StillMeasurement {
  const detail = countedDetail({ strip, sharpness, density: measured.density })
  return {
    width,
    height,
    method: pick.method === 'found' ? 'chart' : 'picks',
    ...measured,
    sharpness,
    tone,
    ...(strip === undefined ? {} : { strip }),
    effectiveDensity: detail === null ? null : effectiveDensity(measured.density, detail),
    problems: [...measured.problems, ...sizeProblems({ width, height }, promisedSize), ...problems],
  }
}

/** Detail and tone of the found chart by its own areas, of any other reference by its outline. */
async function surfaceOf(
  still: StillPixels,
  context: StillContext,
  { corners, density }: MeasuredDensity,
): Promise<Surface> {
  const { reference, chart } = context
  if (chart === undefined || chart === null || !isChart(reference))
    return measureSurface(still, context, corners, density.onTarget)
  const raster = await still.region(regionNeeded(chart.fit.corners, still.width, still.height))
  const { elements, fullDetailAt } = context
  return chartSurface(raster, chart, { reference, elements, fullDetailAt, densityPxPerM: density.onTarget })
}

/** A surface that was smeared, told. */
function withSmear(surface: Surface): Surface {
  const told = surface.sharpness === null ? null : smear(surface.sharpness)
  return told === null ? surface : { ...surface, problems: [...surface.problems, told] }
}

/** Why nothing stands out on the reference itself: its strips answer for it where they were read. */
const OUTDONE: ReadonlySet<string> = new Set(['too-noisy', 'washed-out', 'no-two-levels', 'k-upper-bound'])

/** The surface with what the strips under the reference tell, where it carries them. */
async function withStrips(
  surface: Surface,
  still: StillPixels,
  { reference, chart, elements }: StillContext,
  { corners }: MeasuredDensity,
): Promise<Surface> {
  if (reference.kind === 'length' || reference.strip === undefined) return surface
  const carrier = { ...reference, strip: reference.strip }
  const read = await stripsBeside(still, carrier, corners as unknown as Quad, chart ?? null, elements)
  if (!read.ok)
    return {
      ...surface,
      strip: null,
      problems: [...surface.problems, { code: read.code, message: read.message }],
    }
  const { strip, problems } = read.value
  const kept = surface.problems.filter(({ code }) => !OUTDONE.has(code))
  return { ...surface, strip, problems: [...kept, ...problems] }
}

function sizeProblems(still: ImageSize, promised: ImageSize | null): Problem[] {
  const against = promised === null ? null : stillAgainstSheet(promised, still)
  return against === null ? [] : [{ code: against.code, message: against.message }]
}
