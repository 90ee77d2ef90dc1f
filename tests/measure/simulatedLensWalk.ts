import type { LensStill } from '../../src/measure/lens/lensStill.js'
import type { Point, Quad } from '../../src/math/point.js'
import type { Random } from '../../src/math/random.js'
import { namedRadius, seenRectangle } from './seenRectangle.js'

/** The still of every simulated walk, px. */
export const STILL = { stillWidth: 3840, stillHeight: 2160 }

/** Where a reference stands: distance as taped, metres, and its direction, degrees. */
export interface Place {
  readonly distanceM: number
  readonly bearingDeg: number
  readonly downDeg: number
}

export interface LensScene {
  readonly p: number
  readonly pixelsPerRadian: number
  readonly places: readonly Place[]
  readonly widthM: number
  readonly heightM: number
  readonly toleranceM: number
  readonly tapeToleranceM: number
  readonly sigmaPx: number
  readonly clicked: boolean
  /** How far from square to the ray it is held, one standard deviation, degrees; 10 unless said. */
  readonly heldDeg?: number
  /** Where the tape begins before the lens, metres; 0.03 m, normal, unless said. */
  readonly startM?: number
  /** Index of a place whose tape is wrong, and the true distance over the taped one. */
  readonly wrong?: { readonly index: number; readonly ratio: number }
}

/** F of a lens of the named projection that sees `fullAngleDeg` over the still's width. */
export function pixelsPerRadianOf(p: number, fullAngleDeg: number): number {
  return STILL.stillWidth / 2 / namedRadius(p, (fullAngleDeg * Math.PI) / 360)
}

/** Eight places over 60 % of a frame that sees 100 degrees across, each distance at two of them. */
export const EIGHT_PLACES: readonly Place[] = [
  [2.5, -30, -8],
  [3, -15, 8],
  [3.5, 0, -8],
  [4, 15, 8],
  [2.5, 30, -8],
  [3, -24, 10],
  [3.5, 8, 8],
  [4, 24, 0],
].map(([distanceM, bearingDeg, downDeg]) => ({
  distanceM: distanceM!,
  bearingDeg: bearingDeg!,
  downDeg: downDeg!,
}))

/**
 * One walk, its corners projected exactly and then given noise. Drawn once: the sizes, the offset of the tape, the click bias. Drawn per place: the tape,
 * two degrees of place, and how the reference is held: square to the ray within ten degrees (normal, unless said), level within three.
 */
export function lensWalk(scene: LensScene, random: Random): LensStill[] {
  const spread = (half: number): number => half * (2 * random.uniform() - 1)
  const widthM = scene.widthM + spread(scene.toleranceM)
  const heightM = scene.heightM + spread(scene.toleranceM)
  const drawnM = 0.03 * random.normal()
  const offsetM = scene.startM ?? drawnM
  const outwardPx = scene.clicked ? 0.2 * random.normal() : 0
  return scene.places.map(({ distanceM, bearingDeg, downDeg }, index): LensStill => {
    const ratio = scene.wrong?.index === index ? scene.wrong.ratio : 1
    const { corners } = seenRectangle({
      p: scene.p,
      pixelsPerRadian: scene.pixelsPerRadian,
      width: STILL.stillWidth,
      height: STILL.stillHeight,
      widthM,
      heightM,
      distanceM: distanceM * ratio + offsetM + spread(scene.tapeToleranceM),
      bearingDeg: bearingDeg + spread(2),
      downDeg: downDeg + spread(2),
      yawDeg: (scene.heldDeg ?? 10) * random.normal(),
      pitchDeg: (scene.heldDeg ?? 10) * random.normal(),
      rollDeg: 3 * random.normal(),
    })
    const noisy = corners.map((corner, i): Point => {
      let [x, y] = corner
      for (const j of [(i + 1) % 4, (i + 3) % 4]) {
        const towards = Math.atan2(corners[j]![1] - corner[1], corners[j]![0] - corner[0])
        x -= outwardPx * Math.cos(towards)
        y -= outwardPx * Math.sin(towards)
      }
      return [x + scene.sigmaPx * random.normal(), y + scene.sigmaPx * random.normal()]
    })
    return {
      corners: noisy as unknown as Quad,
      covariancePx2: Array.from({ length: 8 }, (_, i) =>
        Array.from({ length: 8 }, (__, j) => (i === j ? scene.sigmaPx ** 2 : 0)),
      ),
      clicked: scene.clicked,
      light: 'day',
      reference: 'board',
      widthM: scene.widthM,
      heightM: scene.heightM,
      widthToleranceM: scene.toleranceM,
      heightToleranceM: scene.toleranceM,
      distanceM,
    }
  })
}
