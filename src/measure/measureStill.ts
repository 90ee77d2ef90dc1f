import { type Outcome, success } from '../math/outcome.js'
import type { CameraLens } from '../lens/cameraLens.js'
import { type ImageSize, stillAgainstSheet } from '../lens/stillAgainstSheet.js'
import type { StillPixels } from '../still/raster.js'
import { measureDensity } from './density/density.js'
import type { MeasuredDensity } from './density/measuredDensity.js'
import { effectiveDensity } from './surface/effectiveDensity.js'
import { chartSurface } from './chart/chartSurface.js'
import type { MeasuredChart } from './chart/measureChart.js'
import type { Pick } from './reference/pick.js'
import { isChart, type Reference } from './reference/reference.js'
import { regionNeeded } from './regionNeeded.js'
import { measureSurface, type Surface } from './surface/surface.js'
import type { Problem, StillMeasurement, ToneElement } from './stillMeasurement.js'

/** What a still is measured against. */
export interface StillContext {
  readonly reference: Reference
  readonly pick: Pick
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
 * is decoded. Fails, by name, where the points are no outline of the reference.
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

  const surface = await surfaceOf(still, context, density.value)

  const effective =
    surface.sharpness === null ? null : effectiveDensity(density.value.density, surface.sharpness)

  return success({
    width: still.width,
    height: still.height,
    method: context.pick.method === 'found' ? 'chart' : 'picks',
    ...density.value,
    sharpness: surface.sharpness,
    tone: surface.tone,
    effectiveDensity: effective,
    problems: [
      ...density.value.problems,
      ...sizeProblems(still, context.promisedSize ?? null),
      ...surface.problems,
    ],
  })
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

function sizeProblems(still: StillPixels, promised: ImageSize | null): Problem[] {
  const against = promised === null ? null : stillAgainstSheet(promised, still)
  return against === null ? [] : [{ code: against.code, message: against.message }]
}
