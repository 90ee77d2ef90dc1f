import { ACROSS, cellOf, DOWN } from './cells.js'
import { gradientPicture } from './gradientPicture.js'
import { type CvMat, type OpenCv, withOpenCv } from './openCv.js'
import { matOf, sceneMask } from './sceneMask.js'
import { type SceneMatches, toStills } from './sceneMatches.js'
import type { ScenePicture } from './scenePicture.js'

/** How corners are followed from one picture into the other, px of the reduced picture. */
interface Following {
  /** Whether the gradients are followed, whichever way round light and dark are, and not the light itself. */
  readonly gradients: boolean
  readonly windowPx: number
  /** A corner followed there and back must come so near to where it was. */
  readonly backPx: number
}

/** Inside a light; of B. Lucas and T. Kanade in a pyramid (J.-Y. Bouguet), as OpenCV has it. */
export const BY_LIGHT: Following = { gradients: false, windowPx: 15, backPx: 0.25 }
/** From light to light. */
export const BY_GRADIENTS: Following = { gradients: true, windowPx: 31, backPx: 0.4 }

const CORNERS_A_CELL = 5
const QUALITY = 0.02
const APART_PX = 6
const LEVELS = 3
const MOST_STEPS = 30
const LAST_STEP_PX = 0.01

/**
 * Corners of one picture, some in each cell, followed into another of the same size there and back: those that come back to where they were.
 * @throws an Error with OpenCV's own words where it fails
 */
export function flowMatches(
  one: ScenePicture,
  other: ScenePicture,
  { gradients, windowPx, backPx }: Following,
): SceneMatches {
  return withOpenCv((cv, keep) => {
    const plain = [keep(matOf(cv, one)), keep(matOf(cv, other))] as const
    const mask = sceneMask(cv, plain[0], plain[1], keep)
    const [from, to] = gradients ? plain.map((picture) => gradientPicture(cv, picture, keep)) : plain
    const corners = cornersByCell(cv, from!, mask)
    const points: number[] = []
    if (corners.length === 0) return { points, seen: [0, 0] }
    const start = keep(cv.matFromArray(corners.length / 2, 1, cv.CV_32FC2, corners))
    const follow = (a: CvMat, b: CvMat, places: CvMat): { end: CvMat; isFound: CvMat } => {
      const [end, isFound, error] = [keep(new cv.Mat()), keep(new cv.Mat()), keep(new cv.Mat())]
      const until = new cv.TermCriteria(cv.TermCriteria_COUNT + cv.TermCriteria_EPS, MOST_STEPS, LAST_STEP_PX)
      const window = new cv.Size(windowPx, windowPx)
      cv.calcOpticalFlowPyrLK(a, b, places, end, isFound, error, window, LEVELS, until)
      return { end, isFound }
    }
    const there = follow(from!, to!, start)
    const back = follow(to!, from!, there.end)
    const [ends, returned] = [there.end.data32F, back.end.data32F]
    for (let i = 0; i < corners.length; i += 2) {
      const isBoth = there.isFound.data[i / 2] === 1 && back.isFound.data[i / 2] === 1
      const off = Math.hypot(returned[i]! - corners[i]!, returned[i + 1]! - corners[i + 1]!)
      if (isBoth && off <= backPx) points.push(corners[i]!, corners[i + 1]!, ends[i]!, ends[i + 1]!)
    }
    const seen = cellsOf(corners, one)
    return { points: toStills(points, one, other), seen: [seen, seen] }
  })
}

/** In how many cells of a picture corners lie. */
function cellsOf(corners: readonly number[], { width, height }: ScenePicture): number {
  const cells = corners.flatMap((x, i) => (i % 2 === 0 ? cellOf(x, corners[i + 1]!, width, height) : []))
  return new Set(cells).size
}

/** x, y of the corners (Shi and Tomasi) of each cell by itself: over the whole picture, letters and boards would take them all. */
function cornersByCell(cv: OpenCv, picture: CvMat, mask: CvMat): number[] {
  const found: number[] = []
  const edge = (index: number, count: number, size: number): number => Math.round((index * size) / count)
  for (let row = 0; row < DOWN; row++)
    for (let column = 0; column < ACROSS; column++) {
      const [left, top] = [edge(column, ACROSS, picture.cols), edge(row, DOWN, picture.rows)]
      const [right, bottom] = [edge(column + 1, ACROSS, picture.cols), edge(row + 1, DOWN, picture.rows)]
      if (right - left < APART_PX || bottom - top < APART_PX) continue
      const area = new cv.Rect(left, top, right - left, bottom - top)
      const [part, free, corners] = [picture.roi(area), mask.roi(area), new cv.Mat()]
      try {
        cv.goodFeaturesToTrack(part, corners, CORNERS_A_CELL, QUALITY, APART_PX, free)
        for (let i = 0; i < corners.rows; i++)
          found.push(left + corners.data32F[2 * i]!, top + corners.data32F[2 * i + 1]!)
      } finally {
        for (const mat of [part, free, corners]) mat.delete()
      }
    }
  return found
}
