import type { AxisBudget } from '../../measure/stillMeasurement.js'
import { commonLoads } from '../marks/commonDraws.js'
import { chooseAxis } from '../marks/chooseAxis.js'
import { START_PRIOR_M } from '../range/fitConstant.js'
import { MODEL_FREEDOM_REL } from '../range/fitRange.js'
import type { LogChange } from './logChange.js'
import { AXES, type Axis, type MarkMeasurement } from '../marks/markMeasurement.js'
import { markDirection } from '../marks/markDirection.js'

/** A mark as both walks measured it, and what they share. */
export interface MarkPair {
  readonly before: MarkMeasurement
  readonly after: MarkMeasurement
  /** Whether the reference is taken to be one and the same object. */
  readonly sameObject: boolean
  /** Half-widths of the tapes' tolerances, metres. */
  readonly tapeM: { readonly before: number; readonly after: number }
}

/**
 * Where the tape of a walk begins, metres, one standard deviation: anywhere within what judging believes, either way (rectangular), and each walk's is its own: taken for
 * 0.03 m, two unchanged walks that begin 0.1 to 0.2 m apart were called changed in 16 to 66 of 100 (simulated). This project's convention.
 */
export const TAPE_START_U_M = START_PRIOR_M / Math.sqrt(3)

/** A change of density, and whether a hand clicked what it was measured on. */
export interface DensityChange extends LogChange {
  readonly clicked: boolean
}

// The same as where the marks of one walk count as seen at different field angles.
const SAME_ANGLE_RAD = (5 * Math.PI) / 180

/**
 * The change of density at a mark from one axis to another. The draws: a size that is the same object's, and the bend of the lens, which is the same
 * lens at the same distance, cancel as far as both walks carry them alike; the click bias is drawn anew with every walk (another hand may
 * click), what is unknown of a lens that was made out, and so are the tape of every mark and where the tapes begin: none of these cancels.
 */
export function densityChange(pair: MarkPair, axes: { before: Axis; after: Axis }): DensityChange {
  const [before, after] = [pair.before.axes[axes.before]!, pair.after.axes[axes.after]!]
  const [widthB, heightB, bendB, clickB] = loads(before, axes.before)
  const [widthA, heightA, bendA, clickA] = loads(after, axes.after)
  const { lineOfSightM: distanceM } = pair.before
  const size = pair.sameObject
    ? [widthA - widthB, heightA - heightB, 0, 0]
    : [-widthB, -heightB, widthA, heightA]
  const tapes = [pair.tapeM.before, pair.tapeM.after].map(
    (toleranceM) => toleranceM / Math.sqrt(3) / distanceM,
  )
  const offset = TAPE_START_U_M / distanceM
  const model = seenAlike(pair) ? 0 : MODEL_FREEDOM_REL
  const ownRel = Math.hypot(before.cornersRel, after.cornersRel, model, ...tapes)
  return {
    logRatio: Math.log(after.densityPxPerM / before.densityPxPerM),
    ownRel,
    dof: Math.min(before.dof, after.dof),
    common: [...size, bendA - bendB, -clickB, clickA, offset, -offset, ...lensesAnew(before, after)],
    clicked: clickB > 0 || clickA > 0,
  }
}

/** The better known axis that neither walk plainly shortened by holding the reference turned. */
export function comparedAxis({ before, after }: MarkPair): Axis {
  const [one, other] = [chooseAxis(before), chooseAxis(after)]
  return one === other ? one : 'horizontal'
}

/** The axis with the smaller density: the one that counts at a mark. */
export function decidingAxis({ axes }: MarkMeasurement): Axis {
  const known = AXES.filter((axis) => axes[axis] !== null)
  return known.reduce((least, axis) =>
    axes[axis]!.densityPxPerM < axes[least]!.densityPxPerM ? axis : least,
  )
}

/** The axes that both walks measured. */
export function sharedAxes({ before, after }: MarkPair): Axis[] {
  return AXES.filter((axis) => before.axes[axis] !== null && after.axes[axis] !== null)
}

function loads(budget: Parameters<typeof commonLoads>[0], axis: Axis): [number, number, number, number] {
  const [width = 0, height = 0, bend = 0, click = 0] = commonLoads(budget, axis)
  return [width, height, bend, click]
}

/** What is unknown of a known lens: each walk made it out anew. */
function lensesAnew(before: AxisBudget, after: AxisBudget): readonly number[] {
  const [first, second] = before.lens?.loadsRel ?? [0, 0]
  return [-first, -second, ...(after.lens?.loadsRel ?? [0, 0])]
}

/** Whether both walks saw the reference in about the same direction, so that an unknown lens treats both alike. */
function seenAlike({ before, after }: MarkPair): boolean {
  const [one, other] = [markDirection(before), markDirection(after)]
  return Math.hypot(other.acrossRad - one.acrossRad, other.downRad - one.downRad) <= SAME_ANGLE_RAD
}
