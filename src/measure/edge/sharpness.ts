import type { Quad } from '../../math/point.js'
import type { Raster } from '../../still/raster.js'
import { directionDetail } from './directionDetail.js'
import { readEdgeSide } from './edgeSide.js'
import { sharpeningSeen } from './haloSeen.js'
import type { EdgeFault } from './quietGround.js'
import { sideDetail, type SideDetail } from './sideDetail.js'
import { sideLines, type SideLine } from './sideLine.js'
import type { Problem, Sharpness } from '../stillMeasurement.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** Overshoot told as sharpening, share of the step: this project's convention. */
const TOLD_OVERSHOOT = 0.1

/** How detail is turned into a factor. */
export interface SharpnessOptions {
  /** f10 in cycles/px from which every pixel counts. */
  readonly fullDetailAt: number
}

/** Sharpness, or null and the problem that says why. */
export interface SharpnessResult {
  readonly sharpness: Sharpness | null
  readonly problems: readonly Problem[]
}

/** The sides of one direction that tell detail, or why none does. */
interface Told {
  readonly sides: readonly SideDetail[]
  readonly fault: Problem | null
}

/**
 * Sharpness from the four sides of a flat reference by fitted edges: Gaussian blur through the pixel, levels of each side its own, in linear
 * light by the sRGB curve. `corners` are image coordinates, px, clockwise from the reference's own top left; the raster must hold some 20 px
 * around them. `horizontal` is detail across the sides that stand more upright in the still. The lower direction decides the factor, with the
 * hull interval: low = min(h - Uh, v - Uv), high = min(h + Uh, v + Uv); `factorU` is the longer arm. One problem code per reason it is null.
 */
export function measureSharpness(raster: Raster, corners: Quad, options: SharpnessOptions): SharpnessResult {
  const [top, right, bottom, left] = sideLines(corners)
  const upright =
    Math.abs(right.outward[0]) + Math.abs(left.outward[0]) >=
    Math.abs(right.outward[1]) + Math.abs(left.outward[1])
  const across = tell(raster, upright ? [left, right] : [top, bottom], 'upright')
  const down = tell(raster, upright ? [top, bottom] : [left, right], 'level')
  const fault = across.fault ?? down.fault
  if (fault !== null) return { sharpness: null, problems: [fault] }
  const halos = [...across.sides, ...down.sides].map(({ halo }) => halo).filter((halo) => halo !== null)
  const { isSure, liftRel } = sharpeningSeen(halos)
  const [h, v] = [directionDetail(across.sides, liftRel), directionDetail(down.sides, liftRel)]
  const factorOf = (f10: number): number => Math.min(1, Math.max(0, f10 / options.fullDetailAt))
  const factor = factorOf(Math.min(h.sharpness.mtf10, v.sharpness.mtf10))
  const low = factorOf(Math.min(h.sharpness.mtf10 - h.mtf10U, v.sharpness.mtf10 - v.mtf10U))
  const high = factorOf(Math.min(h.sharpness.mtf10 + h.mtf10U, v.sharpness.mtf10 + v.mtf10U))
  const overshoot = Math.max(h.sharpness.overshoot, v.sharpness.overshoot)
  const deciding = h.sharpness.mtf10 <= v.sharpness.mtf10 ? h : v
  return {
    sharpness: {
      method: 'fit',
      horizontal: h.sharpness,
      vertical: v.sharpness,
      factor,
      factorU: Math.max(factor - low, high - factor),
      f10OwnU: deciding.scatterU,
      shared: deciding.shared,
    },
    problems: sharpeningTold(overshoot, isSure),
  }
}

/** A sharpening that is told by how far edges overshoot, or else by a halo too mild to be parted from the blur. */
function sharpeningTold(overshoot: number, isHaloSure: boolean): readonly Problem[] {
  if (overshoot > TOLD_OVERSHOOT) return [problem(measureSays.sharpened(overshoot))]
  return isHaloSure ? [problem(measureSays['may-be-sharpened']())] : []
}

function tell(raster: Raster, lines: readonly SideLine[], edges: 'upright' | 'level'): Told {
  const told: SideDetail[] = []
  let fault: { readonly code: EdgeFault; readonly message: string } | null = null
  for (const line of lines) {
    const side = readEdgeSide(raster, line)
    const detail = side.ok ? sideDetail(side.value) : side
    if (detail.ok) told.push(detail.value)
    else fault ??= detail
  }
  if (told.length > 0 || fault === null) return { sides: told, fault: null }
  const { message } = measureSays['detail-untold'](edges, fault.message)
  return { sides: [], fault: { code: fault.code, message } }
}
