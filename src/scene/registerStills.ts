import type { CameraLens } from '../lens/cameraLens.js'
import type { Point } from '../math/point.js'
import type { PixelRegion } from '../still/raster.js'
import { agreedMotion, type StillSize } from './fitMotion.js'
import { shiftModel } from './motionModel.js'
import type { SceneMatches } from './sceneMatches.js'
import { type SceneWay, type ShownParts, WAY_WIDTH } from './sceneWays.js'
import { FLOOR_BETWEEN, FLOOR_INSIDE, toldMotion, type ToldMotion } from './toldMotion.js'

/** What registering a still against another of its size came to. */
export interface Registration {
  /** Null where it could not be told. */
  readonly motion: ToldMotion | null
  /** Whether there is so much to see in both that not to find one in the other is itself evidence: inside a light alone. */
  readonly isOtherView: boolean
}

/** Gives the matches of two stills by a way, of all or of parts of them; null where a still could not be had. */
export type FindMatches = (way: SceneWay, parts: ShownParts) => Promise<SceneMatches | null>

/** With features in so many of the 84 cells of either still, some of them are found again wherever it is the same view. This project's convention. */
const PLENTY_CELLS = 30
/**
 * So many features that agree, within so many times what else agrees (those of an enlarged picture are as much less sure), are followed up by corners, where they tell another
 * scale than this, as a logarithm.
 */
const LEAST_FEATURES = 5
const LOOSER = 1.7
const OTHER_SCALE = 0.04
const WHOLE: ShownParts = [null, null]

/** Registers a still against another by following corners, else by features; an enlarged one by corners again, in what it shows of the other. */
export async function registerStills(
  find: FindMatches,
  within: 'inside' | 'between',
  lens: CameraLens | null,
  size: StillSize,
): Promise<Registration> {
  const floor = within === 'inside' ? FLOOR_INSIDE : FLOOR_BETWEEN
  const told = ({ points }: SceneMatches, way: SceneWay): ToldMotion | null =>
    toldMotion(points, lens, size, reducedPx(way, size), floor)
  const followed = await find(within, WHOLE)
  const first = followed === null ? null : told(followed, within)
  if (followed === null || first !== null) return { motion: first, isOtherView: false }
  const features = await find('features', WHOLE)
  if (features === null) return { motion: null, isOtherView: false }
  const parts = partsShown(features, size)
  const again = parts === null ? null : await find(within, parts)
  const motion = (again === null ? null : told(again, within)) ?? told(features, 'features')
  const isPlenty = Math.min(...features.seen) >= PLENTY_CELLS
  return { motion, isOtherView: motion === null && within === 'inside' && isPlenty }
}

function reducedPx(way: SceneWay, { width }: StillSize): number {
  return Math.max(1, width / WAY_WIDTH[way])
}

/** The part of the one still that the other shows, or the other way round, where features say that one is enlarged; null where not. */
function partsShown({ points }: SceneMatches, size: StillSize): ShownParts | null {
  const middle: Point = [size.width / 2, size.height / 2]
  const fit = agreedMotion(points, shiftModel(points, middle), size, LOOSER * reducedPx('features', size))
  if (fit === null || fit.agreeing.length < LEAST_FEATURES) return null
  const [dx, dy, , log] = fit.parameters as [number, number, number, number]
  if (Math.abs(log) < OTHER_SCALE) return null
  const isEnlarged = log > 0
  // A place x of the one lies at middle + d + s (x - middle) in the other.
  const [shift, scale] = isEnlarged
    ? [[dx, dy], Math.exp(log)]
    : [[0 - dx, 0 - dy].map((d) => d / Math.exp(log)), Math.exp(0 - log)]
  const part = partOf(size, [middle[0] - shift[0]! / scale, middle[1] - shift[1]! / scale], scale)
  return part === null ? null : isEnlarged ? [part, null] : [null, part]
}

/** What an enlarged still shows of a still: whole px about a middle, of the same shape; null where it does not lie inside. */
function partOf({ width, height }: StillSize, [x, y]: Point, scale: number): PixelRegion | null {
  const [across, down] = [Math.round(width / scale), Math.round(height / scale)]
  const [left, top] = [Math.round(x - across / 2), Math.round(y - down / 2)]
  const held = {
    left: Math.max(0, Math.min(width - across, left)),
    top: Math.max(0, Math.min(height - down, top)),
  }
  const isInside = Math.abs(held.left - left) < across / 4 && Math.abs(held.top - top) < down / 4
  return isInside ? { ...held, width: across, height: down } : null
}
