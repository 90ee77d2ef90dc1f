import { join } from 'node:path'
import { bestShift, leastNoiseShare, SAME_NOISE } from '../../measure/export/sameNoise.js'
import type { Pick as PickOfStill } from '../../measure/reference/pick.js'
import type { StillMeasurement } from '../../measure/stillMeasurement.js'
import { openStill } from '../../still/openStill.js'
import type { Raster } from '../../still/raster.js'
import { areaPx, isOnePicture, type Pictured } from './pictured.js'

/** A measured still as far as it may be another one's picture, encoded again or cut out of it at its scale. */
export interface LookedAt extends Pictured {
  readonly light: string
  readonly reference: string
  readonly measurement: Pictured['measurement'] & Pick<StillMeasurement, 'corners'>
  readonly measuredOn: { readonly pick: Pick<PickOfStill, 'sigmaPx' | 'covariancePx2'> }
}

/** From the one still's upper left corner to the other's in it, px. */
type Shift = readonly [number, number]

/** Two stills that show their reference at the same place, one perhaps cut out of the other. */
export interface SuspectedPair<Still extends LookedAt = LookedAt> {
  readonly one: Still
  readonly other: Still
  /** The other's upper left pixel in the one, px, as far as the reference tells it. */
  readonly shift: Shift
  /** Further stills of the light and size of the one. */
  readonly thirds: readonly Still[]
}

/** Says which pairs may be one picture. */
export type LookAgain = (pairs: readonly SuspectedPair[]) => Promise<readonly SuspectedPair[]>

/** Found and snapped corners move by this much where a still is encoded again, px. This project's convention. */
const ENCODED_PX = 0.05
/** Corners this many standard deviations apart are not in one place. This project's convention. */
const FAR = 4
/** Two exposures may agree better than one of them with a third that was taken in the wind: so many thirds must all tell. */
const MOST_THIRDS = 3

/**
 * The pairs of stills, not the same by their hashes, whose references lie in one place within the noise of their points, or do once one is shifted; each with
 * what to compare it by. Of all pairs those `isAsked` of.
 */
export function suspectedPairs<Still extends LookedAt>(
  stills: readonly Still[],
  isAsked: (one: Still, other: Still) => boolean = () => true,
): SuspectedPair<Still>[] {
  const sigmas = new Map<LookedAt, number>(stills.map((still) => [still, sigmaPx(still)]))
  const reachPx = (one: Still, other: Still): number =>
    FAR * Math.hypot(sigmas.get(one)!, sigmas.get(other)!, ENCODED_PX)
  const shift = (one: Still, other: Still): Shift | null => shiftOf(one, other, reachPx(one, other))
  const isThird = (still: Still, one: Still, other: Still): boolean =>
    still.light === one.light &&
    isSameSize(still, one) &&
    ![one.file, other.file].includes(still.file) &&
    shift(one, still) === null &&
    !isOnePicture(still, one)
  const thirdsOf = (one: Still, other: Still): Still[] => {
    const thirds: Still[] = []
    for (const still of stills) {
      if (thirds.length === MOST_THIRDS) break
      if (isThird(still, one, other)) thirds.push(still)
    }
    return thirds
  }
  return stills.flatMap((first, index) =>
    stills.slice(index + 1).flatMap((second): SuspectedPair<Still>[] => {
      if (!isAsked(first, second)) return []
      const [one, other] = areaPx(first) < areaPx(second) ? [second, first] : [first, second]
      const by = shift(one, other)
      if (by === null || isOnePicture(one, other)) return []
      const [ofOne, ofOther] = [thirdsOf(one, other), thirdsOf(other, one)]
      if (ofOne.length > 0) return [{ one, other, shift: by, thirds: ofOne }]
      const back = [0 - by[0], 0 - by[1]] as const
      return ofOther.length > 0 ? [{ one: other, other: one, shift: back, thirds: ofOther }] : []
    }),
  )
}

/** How far the one's reference lies from the other's, whole px; null where that is no mere shift, within `reachPx`, of a picture that fits into it. */
function shiftOf(one: LookedAt, other: LookedAt, reachPx: number): Shift | null {
  const [a, b] = [one.measurement, other.measurement]
  const isMeant = one.reference === other.reference && one.file !== other.file
  if (!isMeant || a.corners.length !== b.corners.length || a.width < b.width || a.height < b.height)
    return null
  const mean = (axis: 0 | 1): number =>
    a.corners.reduce((sum, point, i) => sum + point[axis] - b.corners[i]![axis], 0) / a.corners.length
  const [dx, dy] = isSameSize(one, other) ? [0, 0] : [mean(0), mean(1)]
  const isShift = a.corners.every(
    ([x, y], i) => Math.hypot(x - b.corners[i]![0] - dx, y - b.corners[i]![1] - dy) <= reachPx,
  )
  return isShift ? [Math.round(dx), Math.round(dy)] : null
}

function sigmaPx({ measuredOn: { pick } }: LookedAt): number {
  const variances = pick.covariancePx2?.map((row, i) => row[i]!) ?? [pick.sigmaPx ** 2]
  return Math.sqrt(Math.max(...variances))
}

function isSameSize({ measurement: a }: LookedAt, { measurement: b }: LookedAt): boolean {
  return a.width === b.width && a.height === b.height
}

/** Looks at whole pictures in `dir`, of suspected pairs alone, one after the other; what was looked at once is known from then on. */
export function lookingAgain(dir: string): LookAgain {
  const known = new Map<string, boolean>()
  return async (pairs) => {
    const alike: SuspectedPair[] = []
    const wholeOf = wholePictures(dir)
    for (const pair of pairs) {
      const { one, other, shift, thirds } = pair
      const key = JSON.stringify([one, other, ...thirds].map(({ sha256 }) => sha256).concat(String(shift)))
      const answer = known.get(key) ?? (await mayBeOne(pair, wholeOf))
      known.set(key, answer)
      if (answer) alike.push(pair)
    }
    return alike
  }
}

async function mayBeOne(
  { one, other, shift: guess, thirds }: SuspectedPair,
  wholeOf: WholePictures,
): Promise<boolean> {
  const [own, copy] = [await wholeOf(one), await wholeOf(other)]
  if (own === null || copy === null) return false
  const shift = isSameSize(one, other) ? guess : bestShift(own, copy, guess)
  let isTold = false
  for (const still of thirds) {
    const third = await wholeOf(still)
    const share = third === null ? null : leastNoiseShare(own, copy, shift, third)
    if (share !== null && share >= SAME_NOISE) return false
    isTold ||= share !== null
  }
  return isTold
}

/** All of a still's luma; null where the file is no longer what was measured. */
type WholePictures = (still: LookedAt) => Promise<Raster | null>

/** What is held of whole pictures, those looked at last: a pair and its third, of small ones more, px in all. */
const LEAST_HELD = 3
const MOST_HELD_PX = 8e6

/** Whole pictures in `dir`, the last ones held: pairs that follow one another mostly have one still and the thirds in common. */
function wholePictures(dir: string): WholePictures {
  const held = new Map<string, Raster>()
  return async ({ file, sha256 }) => {
    const raster = held.get(file) ?? (await decoded(join(dir, file), sha256))
    if (raster === null) return null
    held.delete(file)
    held.set(file, raster)
    let px = [...held.values()].reduce((sum, { data }) => sum + data.length, 0)
    for (const [oldest, { data }] of held) {
      if (px <= MOST_HELD_PX || held.size <= LEAST_HELD) break
      held.delete(oldest)
      px -= data.length
    }
    return raster
  }
}

async function decoded(path: string, sha256: string): Promise<Raster | null> {
  const still = await openStill(path)
  if (!still.ok || still.value.sha256 !== sha256) return null
  const { width, height } = still.value
  return still.value.region({ left: 0, top: 0, width, height })
}
