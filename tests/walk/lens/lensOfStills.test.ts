import { describe, expect, it } from 'vitest'
import { projectionAngle } from '../../../src/lens/projection.js'
import { readDataSheet } from '../../../src/lens/readDataSheet.js'
import { seededRandom } from '../../../src/math/random.js'
import { lensOfStills, type LensEvidence } from '../../../src/walk/lens/lensOfStills.js'
import { statedSides } from '../../../src/walk/lens/lensEvidence.js'
import { expectNear } from '../../nearly.js'
import {
  EIGHT_PLACES,
  lensWalk,
  type LensScene,
  pixelsPerRadianOf,
  type Place,
} from '../../measure/simulatedLensWalk.js'

const STILL = { width: 3840, height: 2160 }
const scene = (p: number, places: readonly Place[], fullAngleDeg = 100): LensScene => ({
  p,
  pixelsPerRadian: pixelsPerRadianOf(p, fullAngleDeg),
  places,
  widthM: 0.6,
  heightM: 0.4,
  toleranceM: 0.001,
  tapeToleranceM: 0.03,
  sigmaPx: 0.5,
  clicked: true,
})
/** Walked straight away from under the camera: nothing there tells the projection. */
const LINE: readonly Place[] = [4, 6, 9, 12, 16, 20].map((distanceM) => ({
  distanceM,
  bearingDeg: 1,
  downDeg: 5,
}))

/** The vertical field of view of a lens that sees `fullAngleDeg` across the still. */
function verticalDeg(p: number, fullAngleDeg: number): number {
  const radius = STILL.height / 2 / pixelsPerRadianOf(p, fullAngleDeg)
  return Math.round((projectionAngle(p, radius)! * 360) / Math.PI)
}

function evidence(
  walked: LensScene,
  seed: number,
  stated: { horizontal: number | null; vertical: number | null },
): LensEvidence {
  const sheet = { horizontalDeg: stated.horizontal, verticalDeg: stated.vertical }
  return {
    stills: lensWalk(walked, seededRandom(seed)),
    ...STILL,
    tapeToleranceM: walked.tapeToleranceM,
    reading: readDataSheet({ widthPx: STILL.width, heightPx: STILL.height, ...sheet }),
    sides: statedSides(stated, STILL),
  }
}

const NO_ANGLES = { horizontal: null, vertical: null }

describe('the lens of a walk', () => {
  it.each([1, 0.5, 0, -0.5])('is fitted where references stand all over the frame, p = %d', (p) => {
    const walked = { ...scene(p, EIGHT_PLACES), sigmaPx: 0.1, clicked: false }
    const { lens, findings } = lensOfStills(evidence(walked, 1, NO_ANGLES))
    expect(lens!.projection.from).toBe('walk')
    expectNear(lens!.projection.p, p, { abs: 0.1 })
    expectNear(lens!.projection.pixelsPerRadian[0]!.value, walked.pixelsPerRadian, { rel: 0.02 })
    expect(findings).toEqual([])
  })

  it.each([1, 0.5, 0, -0.5])(
    "is the data sheet's where a straight walk agrees with both its angles, p = %d",
    (p) => {
      const stated = { horizontal: 100, vertical: verticalDeg(p, 100) }
      const { lens, findings } = lensOfStills(evidence(scene(p, LINE), 2, stated))
      expect(findings).toEqual([])
      expect(lens!.projection.from).toBe('data-sheet')
      expectNear(lens!.projection.pixelsPerRadian[0]!.value, pixelsPerRadianOf(p, 100), { rel: 0.03 })
      expect(lens!.projection.low).toBeLessThan(p)
      expect(lens!.projection.high).toBeGreaterThan(p)
    },
  )

  it('is not known from a straight walk with no data sheet', () => {
    expect(lensOfStills(evidence(scene(0, LINE), 3, NO_ANGLES))).toEqual({ lens: null, findings: [] })
  })

  it('is not known from references in the middle alone, however sharply their corners were found', () => {
    const walked = { ...scene(0, LINE), sigmaPx: 0.001, toleranceM: 0, clicked: false }
    expect(lensOfStills(evidence(walked, 9, NO_ANGLES))).toEqual({ lens: null, findings: [] })
  })

  it.each([
    ['says 110 degrees of a lens that sees 100', 0, { horizontal: 110, vertical: verticalDeg(0, 110) }],
    ['says 90 degrees of a lens that sees 100', 0, { horizontal: 90, vertical: verticalDeg(0, 90) }],
    ['gives the angles of a plain lens for a fisheye', 0, { horizontal: 100, vertical: verticalDeg(1, 100) }],
    ['gives one angle, with which a plain lens would be another', 0, { horizontal: 100, vertical: null }],
    ['says 100 degrees of a plain lens that sees 80', 1, { horizontal: 100, vertical: null }],
  ])("is not the data sheet's where that lies: it %s", (_, p, stated) => {
    const walked = scene(p, LINE, p === 1 ? 80 : 100)
    for (const seed of [4, 5, 6, 7]) {
      const { lens, findings } = lensOfStills(evidence(walked, seed, stated))
      expect(lens).toBeNull()
      expect(findings.map(({ code }) => code)).toEqual(['lens-against-sheet'])
      expect(findings[0]!.message).toContain("Proofwalk does not use the data sheet's lens")
    }
  })

  it('is the measured one where stills tell it, whatever a data sheet says, and tells the difference', () => {
    const walked = { ...scene(0, EIGHT_PLACES), sigmaPx: 0.1, clicked: false }
    const { lens, findings } = lensOfStills(evidence(walked, 8, { horizontal: 110, vertical: 70 }))
    expect(lens!.projection.from).toBe('walk')
    expectNear(lens!.projection.pixelsPerRadian[0]!.value, walked.pixelsPerRadian, { rel: 0.02 })
    expect(findings[0]!.message).toContain('Proofwalk uses the measured lens')
  })
})
