import { describe, expect, it } from 'vitest'
import { combineRepeats } from '../../src/grade/marks/combineRepeats.js'
import { fitOfMarks } from './fitOfMarks.js'
import type { JudgedStill } from '../../src/grade/judgement.js'
import { lensResult } from '../../src/grade/lensResult.js'
import { isTurned } from '../../src/grade/marks/turned.js'
import type { CameraLens } from '../../src/lens/cameraLens.js'
import { pOfCubic } from '../../src/lens/cubicBend.js'
import type { KnownLens } from '../../src/lens/knownLens.js'
import { seededRandom, type Random } from '../../src/math/random.js'
import { measureDensity } from '../../src/measure/density/density.js'
import { lensWalk, pixelsPerRadianOf, STILL, type Place } from '../measure/simulatedLensWalk.js'
import { BOARD } from './simulatedWalk.js'

// A board walked across the whole frame of a wide lens (equidistant, 100 degrees over 3840 px), marks 30 degrees off its axis to both sides. By a lens
// that is not known its marks fit no one constant; through the known lens they do, and F is that of the middle of the picture.
const WALKS = 400
const F = pixelsPerRadianOf(0, 100)
const PLACES: readonly Place[] = [
  [4, -30, 5],
  [6, 25, 5],
  [8, -15, 3],
  [11, 32, 2],
  [15, -28, 2],
  [20, 5, 1],
].map(([distanceM, bearingDeg, downDeg]) => ({
  distanceM: distanceM!,
  bearingDeg: bearingDeg!,
  downDeg: downDeg!,
}))
const SIGMA_Q = 0.01
const SIGMA_LOG_F = 0.005

interface Reading {
  readonly known?: KnownLens
  readonly lens?: CameraLens
}

function walk(
  random: Random,
  reading: Reading,
  p = 0,
  start: { readonly startM?: number } = {},
): JudgedStill[] {
  const scene = {
    ...start,
    p,
    pixelsPerRadian: pixelsPerRadianOf(p, 100),
    places: PLACES,
    widthM: BOARD.widthM,
    heightM: BOARD.heightM,
    toleranceM: BOARD.widthToleranceM,
    tapeToleranceM: 0.05,
    sigmaPx: 0.5,
    clicked: true,
    heldDeg: 3,
  }
  return lensWalk(scene, random).map(({ corners, distanceM }): JudgedStill => {
    const measured = measureDensity(
      BOARD,
      { kind: 'corners', method: 'hand', corners, sigmaPx: 0.5 },
      { ...STILL, distanceM, ...reading },
    )
    if (!measured.ok) throw new Error(measured.message)
    return {
      file: `stills/day/${distanceM}m.png`,
      light: 'day',
      reference: BOARD.name,
      distanceM,
      lineOfSightM: distanceM,
      grade: null,
      gradeByPixels: null,
      usable: null,
      measurement: {
        width: STILL.stillWidth,
        height: STILL.stillHeight,
        method: 'picks',
        ...measured.value,
        sharpness: null,
        tone: null,
        effectiveDensity: null,
      },
    }
  })
}

const middle = { centreX: STILL.stillWidth / 2, centreY: STILL.stillHeight / 2 }

/** As a walk would know it: bend and F drawn around the truth with the covariance that is stated. */
function known(random: Random): KnownLens {
  const q = SIGMA_Q * random.normal()
  const pixelsPerRadian = F * Math.exp(SIGMA_LOG_F * random.normal())
  return {
    lens: { p: pOfCubic(q), pixelsPerRadian, ...middle },
    varianceQ: SIGMA_Q ** 2,
    covariance: 0,
    varianceLogF: SIGMA_LOG_F ** 2,
  }
}

function measuredF(stills: readonly JudgedStill[], lensKnown: boolean) {
  const fit = fitOfMarks(combineRepeats(stills), { distanceToleranceM: 0.05, lensKnown })
  if (fit === null) throw new Error('no mark')
  return lensResult({ light: 'day', reference: BOARD.name, marks: [], fit }, null)!
}

/** Of many walks, the shares whose F lies within 2 and 3 % of the truth and is covered, and those with a mark left out. */
function shares(start: { readonly startM?: number } = {}) {
  const random = seededRandom(12)
  const told = Array.from({ length: WALKS }, () =>
    measuredF(walk(random, { known: known(random) }, 0, start), true),
  )
  const share = (is: (lens: (typeof told)[number]) => boolean): number => told.filter(is).length / WALKS
  const within = (most: number): number =>
    share(({ pixelsPerRadian }) => Math.abs(pixelsPerRadian.value / F - 1) <= most)
  const covered = share(({ pixelsPerRadian: { low, high } }) => low <= F && F <= high)
  return {
    within2: within(0.02),
    within3: within(0.03),
    covered,
    suspects: share(({ suspect }) => suspect !== null),
  }
}

describe('the measured lens of a walk across a wide frame', () => {
  it('is within 3 % of the truth in 99 walks of 100 and within 2 % in 97, covered 93 to 98 times in 100, and leaves no good mark out', () => {
    const { within2, within3, covered, suspects } = shares()
    console.info('F through the known lens', { within2, within3, covered, suspects })
    // A tape that is believed to begin within 0.2 m, and not 0.03 m, leaves F half as much again as it was.
    expect(within3).toBeGreaterThanOrEqual(0.99)
    expect(within2).toBeGreaterThanOrEqual(0.97)
    expect(covered).toBeGreaterThanOrEqual(0.93)
    expect(covered).toBeLessThanOrEqual(0.98)
    expect(suspects).toBeLessThan(0.03)
  })

  // Believed to 0.03 m, F would be within 2 % in 99.75 of 100 walks that begin so near, and be covered in 60, 34 and 27 of 100 that begin 0.10, 0.15 and 0.20 m off. It is
  // the F of promises and ranges too (F/D), so a sheet has one of them.
  it.each([0.15])('is covered as often where the tape measure starts %d m off', (startM) => {
    const { covered } = shares({ startM })
    console.info(`F where the tape measure starts ${startM} m off: covered ${(100 * covered).toFixed(1)} %`)
    expect(covered).toBeGreaterThanOrEqual(0.93)
    expect(covered).toBeLessThanOrEqual(0.98)
  })
})

describe('a board held square to the camera at the edge of a wide frame', () => {
  it('is explained by the known lens, where another projection would call it turned', () => {
    // A lens that draws straight lines straight stretches what is off its axis outward; read as equidistant, the board looks foreshortened the other way.
    const plainF = pixelsPerRadianOf(1, 100)
    const exact = { varianceQ: 0, covariance: 0, varianceLogF: 0 }
    const misread = walk(seededRandom(3), { lens: { p: 0, pixelsPerRadian: plainF, ...middle } }, 1)
    const through = walk(
      seededRandom(3),
      { known: { lens: { p: 1, pixelsPerRadian: plainF, ...middle }, ...exact } },
      1,
    )
    const turned = (stills: readonly JudgedStill[]): boolean => {
      const [mark] = combineRepeats(stills)
      return isTurned(mark!, mark!.onTarget, 1.06 * mark!.onTarget.value)
    }
    expect(turned(misread)).toBe(true)
    expect(turned(through)).toBe(false)
  })
})
