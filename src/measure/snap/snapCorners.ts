import { median } from '../../math/median.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { linearFromCode } from '../../math/srgb.js'
import type { Quad } from '../../math/point.js'
import type { Raster, StillPixels } from '../../still/raster.js'
import { SNAP_BIAS_PX } from '../density/axisBudget.js'
import { orderCorners, type CornerFailure } from '../density/cornerSet.js'
import { HAND_SIGMA_PX } from '../reference/pick.js'
import type { RectangleReference } from '../reference/reference.js'
import { regionNeeded } from '../regionNeeded.js'
import { sideCorners } from './sideCorners.js'
import { sideLines, type SideLine } from '../edge/sideLine.js'
import { shiftedOutline, SIDE_NAMES, snapDoubts, type SnapDoubt } from './snapDoubts.js'
import { snapPlateSide, type PlateSideNature } from './snapPlateSide.js'
import { snapSide, type SnappedSide, type SnapSideFailure } from './snapSide.js'
import { measureSays } from '../sentences.js'

/** An outline fitted to the edges around it. */
export interface SnappedCorners {
  /** Clockwise from the reference's own top left, px. */
  readonly corners: Quad
  /** px^2, x1, y1 ... y4. */
  readonly covariancePx2: readonly (readonly number[])[]
  /** Per axis, the mean over the corners, px. */
  readonly sigmaPx: number
  /** Scatter of the edges about the fitted sides, px. */
  readonly residualPx: number
  /** How far the corner moved that moved most, px. */
  readonly movedPx: number
  /** What the person who looks at it should know, the gravest first. */
  readonly doubts: readonly SnapDoubt[]
}

export type SnapFailure = CornerFailure | SnapSideFailure | 'snap-unlike-sides'

/** A straight side bends through a lens by a sagitta of about 0.07 (length squared over the still's width) at most, one standard deviation: sized on an equidistant lens of 100 degrees, near its corner. */
const BOW_PRIOR = 0.28
/** What no fit of an edge gets right, one standard deviation a side, px: JPEG blocks, a tone curve that is not the one assumed. This project's convention. */
const SIDE_FLOOR_PX = 0.015
/** What a row of grounds beside a plate's edge does not get right, likewise: characters of another height, a blur that is not even. By trial. */
const ROW_FLOOR_PX = 0.08
/** `SNAP_BIAS_PX` is sized on a blur of 0.8 px (0.85 with the pixel) and a step of 176 code values; a wider blur moves edges by more. */
const BIAS_BLUR_PX = 0.85
const BIAS_STEP_CODE = 176
const PIXEL_SIGMA_PX = 0.29
/** A border drawn inside a plate's outline lies within this of it, metres: this project's convention. */
const BORDER_M = 0.009
/** Characters keep this clear of a plate's rim, metres; what is nearer than so many px is not told apart: this project's conventions, by simulation at a blur of 0.8 px. */
const CHARACTERS_M = 0.013
const RESOLVED_PX = 2.57
/** A plate of known border is fitted from a height of 12 px on (its clicks may have it a px lower), and as rows of grounds up to so many px a metre: by trial, above it is told better by its edges alone. */
const LEAST_PLATE_PX = 11
const MOST_ROW_PX_PER_M = 630
/** The line of a border drawn inside the rim is about so wide, metres: this project's convention. */
const LINE_M = 0.003
/** Scatter about a side beyond this is no straight edge, px. */
const MOST_RESIDUAL_PX = 0.35

/**
 * Fits the four sides of a rectangle's outline to the edges beside them and meets them in new corners. Corners in image coordinates, px, a few px from the
 * edges at most; any order that `orderCorners` takes. Fails, by name and side, where a side has no edge, a broken one, or several to choose from, and where
 * the four do not look like the rim of one thing: an outline is not moved to an edge that may be another's. An end of a plate that has no such edge stays as clicked. `placed` says which corners a person placed (all where
 * it is left out), `clickSigmaPx` how well.
 */
export async function snapCorners(
  still: StillPixels,
  reference: RectangleReference,
  given: Quad,
  {
    placed,
    clickSigmaPx = HAND_SIGMA_PX,
  }: { readonly placed?: readonly boolean[]; readonly clickSigmaPx?: number } = {},
): Promise<Outcome<SnappedCorners, SnapFailure>> {
  const ordered = orderCorners(given, still.width, still.height)
  if (!ordered.ok) return ordered
  const { corners: before, order } = ordered.value
  const byHand = order.map((i) => placed?.[i] ?? true)
  const mayStay = (side: number): boolean =>
    side % 2 === 1 && reference.marking === 'characters' && byHand[side]! && byHand[(side + 1) % 4]!
  const small = tooSmall(before, reference)
  if (small !== null) return small
  const raster = await still.region(regionNeeded(before, still.width, still.height))
  const sides: SnappedSide[] = []
  const isRows = isRowPlate(before, reference)
  // A small plate's ends tell what its top and bottom look like.
  for (const index of isRows ? [1, 3, 0, 2] : [0, 1, 2, 3]) {
    const side = sideLines(before)[index]!
    const nature = natureOf(side, index, reference, still.width)
    const fitted = isRows
      ? rowPlateSide(raster, side, nature, index % 2 === 0 ? sides : null, clickSigmaPx)
      : snapSide(raster, side, nature)
    const straight =
      fitted.ok && fitted.value.curve.residualPx > MOST_RESIDUAL_PX
        ? failure(measureSays['snap-not-straight']())
        : fitted
    if (!straight.ok && mayStay(index)) {
      sides[index] = asClicked(side, clickSigmaPx)
      continue
    }
    if (!straight.ok) {
      const { message } = measureSays['snap-side'](SIDE_NAMES[index]!, reference.name, straight.message)
      return failure({ code: straight.code, message })
    }
    sides[index] = straight.value
  }
  const unlike = unlikeSide(sides)
  if (unlike !== null && mayStay(unlike)) sides[unlike] = asClicked(sideLines(before)[unlike]!, clickSigmaPx)
  else if (unlike !== null) return failure(measureSays['snap-unlike-sides'](SIDE_NAMES[unlike]!))
  const [top, right, bottom, left] = sides as [SnappedSide, SnappedSide, SnappedSide, SnappedSide]
  const scale = birge(sides)
  const meeting = sideCorners(
    [top.line, right.line, bottom.line, left.line],
    sides.map((side) => covarianceOf(side, scale)),
    Math.hypot(widerBias(sides.filter(isFitted)), heldToRim(sides, reference) ? rimU(before, reference) : 0),
  )
  const stays = meeting === null ? null : orderCorners(meeting.corners, still.width, still.height)
  if (meeting === null || stays?.ok !== true) return failure(measureSays['snap-no-corners']())
  const { covariancePx2 } = meeting
  const rim = rimPx(sides, meeting.corners, reference)
  const corners = rim === null ? meeting.corners : shiftedOutline(meeting.corners, rim)
  const moves = corners.map(([x, y], i) => Math.hypot(x - before[i]![0], y - before[i]![1]))
  return success({
    corners,
    covariancePx2,
    sigmaPx: Math.sqrt(covariancePx2.reduce((sum, row, i) => sum + row[i]!, 0) / 8),
    residualPx: Math.max(...sides.map(({ curve }) => curve.residualPx)),
    movedPx: Math.max(...moves),
    doubts: snapDoubts(
      corners,
      { corners: before, placed: byHand, clickSigmaPx },
      reference,
      roughDensity(corners, reference) * BORDER_M < 2 * RESOLVED_PX ||
        !sides.filter(isFitted).every(isLightAround),
    ),
  })
}

/** Nothing checks an end that stays as clicked, so its clicks count for so much more of their noise: 99 of 100 widths then lie in their interval. This project's convention. */
const CLICKED = 1.3

/** An end of a plate that stays as it was clicked, which costs its width little: a band down it may be as dark as what lies beyond. */
function asClicked(line: SideLine, clickSigmaPx: number): SnappedSide {
  const sigmaPx = CLICKED * clickSigmaPx
  const covariancePx2 = [
    [sigmaPx ** 2 / 2, 0, 0],
    [0, 2 * sigmaPx ** 2, 0],
    [0, 0, 0],
  ]
  const curve = { offsetPx: 0, slopePx: 0, bowPx: 0, covariancePx2, chi2: 0, dof: 0, residualPx: 0 }
  return { line, curve, insideCode: NaN, outsideCode: NaN, sigmaPx: 0, halo: 0 }
}

const isFitted = ({ curve }: SnappedSide): boolean => curve.dof > 0

/** Density of the quadrilateral's shorter direction by the lengths of its sides, px/m. */
function roughDensity(corners: Quad, { widthM, heightM }: RectangleReference): number {
  const [top, right, bottom, left] = sideLines(corners).map(({ lengthPx }) => lengthPx)
  return Math.min((top! + bottom!) / 2 / widthM, (right! + left!) / 2 / heightM)
}

/** Characters that run as close to the rim as the still's own blur would be taken for it. */
function tooSmall(
  corners: Quad,
  reference: RectangleReference,
): ReturnType<typeof failure<SnapFailure>> | null {
  // What is seen of a line inside the rim is then neither the line nor the rim, but something between.
  if (reference.border?.kind === 'inset' && roughDensity(corners, reference) * LINE_M < RESOLVED_PX)
    return failure(measureSays['snap-crowded']())
  if (reference.marking === 'plain' || roughDensity(corners, reference) * CHARACTERS_M >= RESOLVED_PX)
    return null
  if (isRowPlate(corners, reference)) return null
  const isUnknown = reference.border === undefined && isTallEnough(corners, reference)
  return failure(measureSays[isUnknown ? 'snap-small-unknown' : 'snap-characters-too-near'](reference.name))
}

/** A plate of known border whose characters come near its edge: its top and bottom are fitted as one row of grounds. */
function isRowPlate(corners: Quad, reference: RectangleReference): boolean {
  const { marking, border } = reference
  if (marking === 'plain' || (border?.kind !== 'none' && border?.kind !== 'rim')) return false
  return isTallEnough(corners, reference) && roughDensity(corners, reference) < MOST_ROW_PX_PER_M
}

function isTallEnough(corners: Quad, reference: RectangleReference): boolean {
  return roughDensity(corners, reference) * reference.heightM > LEAST_PLATE_PX
}

/** A side of it; its top or bottom by what its ends, fitted before, tell of its ground and blur. */
function rowPlateSide(
  raster: Raster,
  side: SideLine,
  nature: PlateSideNature,
  fitted: readonly SnappedSide[] | null,
  clickSigmaPx: number,
): Outcome<SnappedSide, SnapSideFailure> {
  if (fitted === null) return snapPlateSide(raster, side, nature, null, clickSigmaPx)
  const ends = fitted.filter(isFitted)
  if (ends.length === 0) return failure(measureSays['snap-ends-unseen']())
  const ground = linearFromCode(Math.max(...ends.map(({ insideCode }) => insideCode)))
  const sigmaPx = ends.reduce((sum, end) => sum + end.sigmaPx, 0) / ends.length
  return snapPlateSide(raster, side, nature, { ground, sigmaPx }, clickSigmaPx)
}

/** A ground as dark as a border hides it, code values: ink and a dark car are darker, by trial. */
const DARK_CODE = 110
const isLightAround = ({ outsideCode }: SnappedSide): boolean => outsideCode > DARK_CODE

/** Whether a border is known to lie outside the edges that were fitted: the plate's light ground ends there before something dark. */
function heldToRim(sides: readonly SnappedSide[], { border }: RectangleReference): boolean {
  return border?.kind === 'rim' && sides.filter(isFitted).every((side) => side.insideCode > side.outsideCode)
}

/** What ink leaves of the ground's light. This project's convention. */
const INK = 0.07

/** How far the rim lies outside each side, px; null where the rim itself was fitted. A thin dark line pulls the edge beside it in by more than its width, as what lies beyond it is lighter than ink. */
function rimPx(sides: readonly SnappedSide[], corners: Quad, reference: RectangleReference): number[] | null {
  const { border, widthM, heightM } = reference
  if (border?.kind !== 'rim' || !heldToRim(sides, reference)) return null
  const lengths = sideLines(corners).map(({ lengthPx }) => lengthPx)
  return sides.map((side, index) => {
    if (!isFitted(side) || side.isRim === true) return 0
    const [ground, beyond] = [linearFromCode(side.insideCode), linearFromCode(side.outsideCode)]
    const pull = ((1 - INK) * ground) / Math.max(0.2 * ground, ground - Math.max(INK * ground, beyond))
    const across = lengths[(index + 1) % 4]! + lengths[(index + 3) % 4]!
    const inner = (index % 2 === 0 ? heightM : widthM) - 2 * border.widthM
    return (pull * border.widthM * across) / 2 / inner
  })
}

/** What a border leaves open, one standard deviation a side, px: its width to half a millimetre where somebody stated it, to 0.7 where a still showed it (by trial), and where an edge beside ink is seen. */
function rimU(corners: Quad, reference: RectangleReference): number {
  const widthU = reference.border?.seenIn === undefined ? 0.0005 / Math.sqrt(3) : 0.0007
  return Math.hypot(0.2, widthU * roughDensity(corners, reference))
}

function natureOf(
  { lengthPx }: SideLine,
  index: number,
  { marking, border, widthM, heightM }: RectangleReference,
  stillWidth: number,
): PlateSideNature {
  const bordered = marking === 'characters'
  return {
    pxPerM: lengthPx / (index % 2 === 0 ? widthM : heightM),
    bowPriorPx: Math.max(0.02, (BOW_PRIOR * lengthPx ** 2) / stillWidth),
    leastMarginPx: bordered ? (BORDER_M * lengthPx) / (index % 2 === 0 ? widthM : heightM) : 0,
    bordered,
    rimPx: border?.kind === 'rim' ? (border.widthM * lengthPx) / (index % 2 === 0 ? widthM : heightM) : 0,
  }
}

/** By how much the segments scatter beyond their own noise, all sides together: the ratio widens variances and never narrows them. */
function birge(sides: readonly SnappedSide[]): number {
  const chi2 = sides.reduce((sum, { curve }) => sum + curve.chi2, 0)
  const dof = sides.reduce((sum, { curve }) => sum + curve.dof, 0)
  return Math.max(1, chi2 / dof)
}

/** A camera sharpens code values, whose edge does not lie where the light's does: so far a halo of the whole step moves it, one standard deviation, px (simulated: unsharp masks of 0.8 to 2). */
const HALO_BIAS_PX = 0.15

/** What a wide blur and a halo add to the bias that every snapped pick carries (`SNAP_BIAS_PX`), px, one standard deviation. */
function widerBias(sides: readonly SnappedSide[]): number {
  const sizes = sides.map(({ sigmaPx, insideCode, outsideCode, halo }) => {
    const blur = Math.hypot(sigmaPx, PIXEL_SIGMA_PX) / BIAS_BLUR_PX
    const byTone = (SNAP_BIAS_PX * blur * Math.abs(outsideCode - insideCode)) / BIAS_STEP_CODE
    return Math.hypot(byTone, HALO_BIAS_PX * halo)
  })
  return Math.sqrt(Math.max(0, Math.max(...sizes) ** 2 - SNAP_BIAS_PX ** 2))
}

function covarianceOf({ curve, isRim }: SnappedSide, scale: number): number[][] {
  const own = curve.dof === 0 ? 1 : Math.max(scale, curve.chi2 / curve.dof)
  return curve.covariancePx2.map((row, i) =>
    row.map(
      (value, j) =>
        value * own + (i === 0 && j === 0 ? (isRim === true ? ROW_FLOOR_PX : SIDE_FLOOR_PX) ** 2 : 0),
    ),
  )
}

/** What lies just inside must be alike on all sides, as far as their own steps: the one that is not, or null. */
function unlikeSide(sides: readonly SnappedSide[]): number | null {
  const fitted = sides.filter(isFitted)
  const middle = median(fitted.map(({ insideCode }) => insideCode))
  const step = median(fitted.map(({ insideCode, outsideCode }) => Math.abs(outsideCode - insideCode)))
  const away = sides.map((side) => (isFitted(side) ? Math.abs(side.insideCode - middle) : 0))
  const worst = away.indexOf(Math.max(...away))
  return away[worst]! > Math.max(15, 0.4 * step) ? worst : null
}
