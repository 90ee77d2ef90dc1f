import type { GradePromise, JudgedStill, WalkPromise } from '../../grade/judgement.js'
import { gradeStill } from '../../grade/gradings/gradeStill.js'
import { judgeWalk } from '../../grade/judgeWalk.js'
import type { Point, Quad } from '../../math/point.js'
import { measureDensity } from '../../measure/density/density.js'
import { measurementOf } from '../../measure/measureStill.js'
import { HAND_SIGMA_PX, type Pick } from '../../measure/reference/pick.js'
import { isChart, type Reference } from '../../measure/reference/reference.js'
import type { Walk, WalkReference } from '../read/walk.js'
import { lineOfSightM } from '../read/walkHeights.js'

/** What a found chart's corners are good for, px: this project's convention, on the careful side. */
const FOUND_SIGMA_PX = 0.1

/**
 * What the stills must show at each promise, px/m by pixels, for its whole interval to lie on the right side of the limit: the walk as planned is measured and judged
 * as if every still showed what the data sheet says, each reference upright in the middle of the picture, its corners clicked by hand, a chart's found.
 * In the promises' order; null where that cannot be said.
 */
export function neededDensities(
  walk: Walk,
  pixelsPerRadian: number | null,
  marksM: readonly number[],
): (number | null)[] {
  const { promises, references, grading } = walk
  if (pixelsPerRadian === null || promises.length === 0) return promises.map(() => null)
  const stills = marksM.flatMap((distanceM) =>
    references.flatMap((one) => stillAt(walk, one, distanceM, pixelsPerRadian) ?? []),
  )
  // One light stands for all: what is foretold is the same in each.
  const inOneLight = promises.flatMap(gradeOf).map((promise) => ({ ...promise, light: LIGHT }))
  const { promises: judged } = judgeWalk({
    stills,
    lights: [LIGHT],
    references: references.map(({ name }) => name),
    distanceToleranceM: walk.distance.toleranceM,
    lensKnown: false,
    grading,
    judge: 'pixels',
    promises: inOneLight,
    observations: [],
    promisedLens: null,
    beginsM: walk.distance.beginsM,
  })
  const needed = judged.map(({ value, low, high, limit, kind }) => {
    const end = kind === 'most' ? high : low
    return value === null || end === null || end <= 0 ? null : (limit * value) / end
  })
  return promises.map((promise) => (gradeOf(promise).length === 0 ? null : needed.shift()!))
}

/** What is promised of a grade, by reading or for itself; none where it is reading alone. */
function gradeOf({ kind, grade, read: _read, ...promise }: WalkPromise): GradePromise[] {
  return grade === null ? [] : [{ ...promise, grade, ...(kind === 'most' ? { kind } : {}) }]
}

const LIGHT = 'day'

/** A still as the data sheet has it; null where the reference would not be whole in the picture. */
function stillAt(
  walk: Walk,
  { name, reference }: WalkReference,
  distanceM: number,
  pixelsPerRadian: number,
): JudgedStill | null {
  const size = walk.camera.image!
  const sightM = lineOfSightM(walk, name, distanceM)
  const pick = pickAround(reference, [size.width / 2, size.height / 2], pixelsPerRadian / sightM)
  const measured = measureDensity(reference, pick, {
    stillWidth: size.width,
    stillHeight: size.height,
    distanceM: sightM,
  })
  if (!measured.ok) return null
  const surface = { sharpness: null, tone: null, problems: [] }
  const measurement = measurementOf(size, { pick }, measured.value, surface)
  return {
    file: `${distanceM} ${name}`,
    light: LIGHT,
    reference: name,
    distanceM,
    lineOfSightM: sightM,
    measurement,
    ...gradeStill(measurement, walk.grading, 'pixels', LIGHT),
  }
}

function pickAround(reference: Reference, [x, y]: Point, pxPerM: number): Pick {
  if (reference.kind === 'length') {
    const half = (reference.lengthM * pxPerM) / 2
    return {
      kind: 'ends',
      ends: [
        [x, y - half],
        [x, y + half],
      ],
      method: 'hand',
      sigmaPx: HAND_SIGMA_PX,
    }
  }
  const [across, down] = [(reference.widthM * pxPerM) / 2, (reference.heightM * pxPerM) / 2]
  const corners: Quad = [
    [x - across, y - down],
    [x + across, y - down],
    [x + across, y + down],
    [x - across, y + down],
  ]
  return isChart(reference)
    ? { kind: 'corners', corners, method: 'found', sigmaPx: FOUND_SIGMA_PX }
    : { kind: 'corners', corners, method: 'hand', sigmaPx: HAND_SIGMA_PX }
}
