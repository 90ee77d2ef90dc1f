import type { JudgedStill } from '../../grade/judgement.js'
import type { LensReading } from '../../lens/dataSheet.js'
import { writtenRounding } from '../../lens/readAngles.js'
import { orderCorners } from '../../measure/density/cornerSet.js'
import type { LensStill } from '../../measure/lens/lensStill.js'
import type { Pick as CornerPick } from '../../measure/reference/pick.js'
import { pickCovariance } from '../../measure/density/pickCovariance.js'
import type { Reference } from '../../measure/reference/reference.js'
import type { SheetSide } from '../../measure/lens/sheetSides.js'
import type { LensEvidence } from './lensOfStills.js'
import type { Walk } from '../read/walk.js'

/** A measured still with what it was measured on. */
export type StillWithPick = Pick<JudgedStill, 'light' | 'reference' | 'lineOfSightM' | 'measurement'> & {
  readonly measuredOn: { readonly reference: Reference; readonly pick: CornerPick }
}

/** Angles of data sheets are nominal: one standard deviation, relative, beside their rounding. This project's convention. */
const NOMINAL_ANGLE_REL = 0.01
/**
 * Corners that were found or snapped lie within this of where a lens of the family draws them, px, one standard deviation beside their own covariance: resampling, compression
 * and a blur that changes over the reference move them by more than noise does. This project's convention.
 */
const FOUND_CORNER_PX = 0.05
/** A still this near in shape to the data sheet's shows the whole of its picture, scaled or not: this project's convention. */
const SAME_SHAPE = 0.005

/** What a walk's stills say of its lens: rectangles at taped distances in stills of the most frequent size. Null where there are none. */
export function lensEvidence(
  walk: Walk,
  measured: readonly StillWithPick[],
  reading: LensReading | null,
): LensEvidence | null {
  const size = mostFrequentSize(measured)
  if (size === null) return null
  const stills = measured.flatMap((still) => lensStill(still, size) ?? [])
  return {
    stills,
    ...size,
    tapeToleranceM: walk.distance.toleranceM,
    reading,
    sides: sheetSides(walk, size),
  }
}

interface Size {
  readonly width: number
  readonly height: number
}

function mostFrequentSize(measured: readonly StillWithPick[]): Size | null {
  const counts = new Map<string, { size: Size; count: number }>()
  for (const { measurement } of measured) {
    const { width, height } = measurement
    const key = `${width} ${height}`
    counts.set(key, { size: { width, height }, count: (counts.get(key)?.count ?? 0) + 1 })
  }
  const [most] = [...counts.values()].sort((a, b) => b.count - a.count)
  return most?.size ?? null
}

function lensStill(
  { light, reference: name, lineOfSightM, measurement, measuredOn }: StillWithPick,
  { width, height }: Size,
): LensStill | null {
  const { reference, pick } = measuredOn
  if (reference.kind !== 'rectangle' || pick.kind !== 'corners') return null
  if (measurement.width !== width || measurement.height !== height || !(lineOfSightM > 0)) return null
  // An outline that was doubted says what a lens is no better than what it says of density.
  if (pick.doubts !== undefined) return null
  // A curled chart's corners are no lens' doing; one that a lens bent has them where they are seen.
  if (pick.flattened?.seen === null) return null
  const seen = { ...pick, ...pick.flattened?.seen }
  const ordered = orderCorners(seen.corners, width, height)
  if (!ordered.ok) return null
  return {
    corners: ordered.value.corners,
    covariancePx2: withFloor(pickCovariance(seen, ordered.value.order)),
    clicked: pick.method === 'hand',
    light,
    reference: name,
    widthM: reference.widthM,
    heightM: reference.heightM,
    widthToleranceM: reference.widthToleranceM,
    heightToleranceM: reference.heightToleranceM,
    distanceM: lineOfSightM,
  }
}

/** Each of the eight coordinates as uncertain again as a lens is good to draw it. */
function withFloor(covariancePx2: readonly (readonly number[])[]): number[][] {
  return covariancePx2.map((row, i) =>
    row.map((value, j) => (i === j ? value + FOUND_CORNER_PX ** 2 : value)),
  )
}

/** The stated fields of view, over stills that show the whole picture of the data sheet. */
function sheetSides({ camera }: Walk, size: Size): SheetSide[] {
  const { image, fieldOfViewDeg } = camera
  if (image === null || fieldOfViewDeg === null) return []
  const sameShape = Math.abs((size.width / size.height / image.width) * image.height - 1) <= SAME_SHAPE
  return sameShape ? statedSides(fieldOfViewDeg, size) : []
}

/** Fields of view, degrees, as observations of a lens: known to their rounding and to what a data sheet's angles are good for. */
export function statedSides(
  { horizontal, vertical }: { readonly horizontal: number | null; readonly vertical: number | null },
  { width, height }: Size,
): SheetSide[] {
  const side = (deg: number | null, px: number): SheetSide[] => {
    if (deg === null) return []
    const angleU = Math.hypot(writtenRounding(deg) / Math.sqrt(3), NOMINAL_ANGLE_REL * deg)
    return [{ halfAngleRad: (deg * Math.PI) / 360, halfSidePx: px / 2, angleU: (angleU * Math.PI) / 360 }]
  }
  return [...side(horizontal, width), ...side(vertical, height)]
}
