import type { CameraLens } from '../lens/cameraLens.js'
import type { Point } from '../math/point.js'
import { coverageFactor } from '../math/quantiles.js'
import { ACROSS, cellOf, LEAST_CELLS } from './cells.js'
import { type FittedMotion, fitMotion, type StillSize } from './fitMotion.js'
import { PARAMETERS, shiftModel, turnModel } from './motionModel.js'

/** How one still lies against another: the camera's turn where a lens is known, what the middle of the picture did, and how large it is. `u` are 95 %. */
export interface ToldMotion {
  /** Degrees: pan to the right, tilt down, roll clockwise as the camera looks. */
  readonly turn: { readonly pan: number; readonly tilt: number; readonly roll: number } | null
  /** Px of the still, right and down; without a lens a mean over what agrees, by one of 100 degrees 5 % less than in the middle. */
  readonly shift: { readonly x: number; readonly y: number }
  /** How much larger the scene is. */
  readonly scale: number
  /** Of the turn sideways and up and down together, degrees (0 without a lens); of the shift, px; of the scale. */
  readonly u: { readonly turn: number; readonly shift: number; readonly scale: number }
  readonly matches: number
}

/** How well two stills can be told to agree at best, as a share of their width: what unchanged stills of a real fixed camera show, and those of one light and another. */
export const FLOOR_INSIDE = 1.3e-4
export const FLOOR_BETWEEN = 3e-4
/** The interval by the matches alone covers 76 to 82 % of simulated pairs; widened so much, 95 %. */
const WIDENED = 1.6
/** A direction of two coordinates, each with its 95 %, lies within this of the two together in 95 %. */
const OF_BOTH = 0.85
/** A turn is no better known than the lens through which it is told, as a share of it. This project's convention. */
const LENS_REL = 0.03
/** Less than this of the picture's height or width, in cells, may be a caption alone. */
const LEAST_ROWS = 3
const LEAST_COLUMNS = 4

/**
 * What matches tell of how a still lies against another of the same size, through the lens where one is known. Null is "not told": too few parts of the picture agree,
 * counted in whichever of the two shows less.
 */
export function toldMotion(
  points: readonly number[],
  lens: CameraLens | null,
  size: StillSize,
  reducedPx: number,
  floor: number,
): ToldMotion | null {
  const middle: Point = [size.width / 2, size.height / 2]
  const model = lens === null ? shiftModel(points, middle) : turnModel(points, lens)
  const fit = fitMotion(points, model, size, reducedPx)
  if (fit === null || !isSpread(points, fit, size)) return null
  const moved = model.middle(fit.parameters)
  if (moved === null) return null
  const factor = WIDENED * coverageFactor(fit.cells - PARAMETERS)
  const u = (index: number, least: number): number =>
    Math.hypot(factor * Math.sqrt(fit.covariance[index * (PARAMETERS + 1)]!), least)
  const floorPx = floor * size.width
  const perPx = lens === null ? 1 : 1 / lens.pixelsPerRadian
  const both = OF_BOTH * Math.hypot(u(0, floorPx * perPx), u(1, floorPx * perPx))
  const scale = Math.exp(fit.parameters[3]!)
  const turn = lens === null ? null : turnOf(fit.parameters)
  return {
    turn,
    shift: { x: moved[0] - middle[0], y: moved[1] - middle[1] },
    scale,
    u: {
      turn: turn === null ? 0 : Math.hypot(degrees(both), LENS_REL * Math.hypot(turn.pan, turn.tilt)),
      shift: both / perPx,
      scale: scale * u(3, 2 * floor),
    },
    matches: fit.agreeing.length,
  }
}

/** Whether the one picture is turned or shifted against the other, beyond its 95 %. */
export function isTurned({ turn, shift, u }: ToldMotion): boolean {
  return turn === null ? Math.hypot(shift.x, shift.y) > u.shift : Math.hypot(turn.pan, turn.tilt) > u.turn
}

function turnOf([x, y, z]: readonly number[]): ToldMotion['turn'] {
  return { pan: 0 - degrees(y!), tilt: degrees(x!), roll: 0 - degrees(z!) }
}

function degrees(radians: number): number {
  return (radians * 180) / Math.PI
}

/** Whether enough parts of the picture agree, over enough of it. */
function isSpread(points: readonly number[], { agreeing }: FittedMotion, size: StillSize): boolean {
  return [0, 2].some((from) => {
    const cells = new Set(
      agreeing.map((i) => cellOf(points[4 * i + from]!, points[4 * i + from + 1]!, size.width, size.height)),
    )
    const rows = new Set([...cells].map((cell) => Math.floor(cell / ACROSS)))
    const columns = new Set([...cells].map((cell) => cell % ACROSS))
    return cells.size >= LEAST_CELLS && rows.size >= LEAST_ROWS && columns.size >= LEAST_COLUMNS
  })
}
