import type { CvMat, OpenCv } from './openCv.js'
import type { ScenePicture } from './scenePicture.js'

/** Side of the neighbourhoods that are looked at, and how far about burnt-in letters nothing is taken, px of the reduced picture. */
const NEAR_PX = 9
const ABOUT_PX = 21
/** Letters burnt in are as bright as white, on or beside dark, and the same in both pictures: code values. */
const LETTERS_RANGE = 150
const LETTERS_WHITE = 225
const LETTERS_ALIKE = 14
/** Where codes range less than this, noise and coding make the corners. */
const LEAST_RANGE = 12

/**
 * Where two pictures of one size may be held against each other, 255 there and 0 elsewhere: not about what is burnt into both (it never moves, and would pin the answer to
 * zero), and not where there is nothing to see. The caller deletes it.
 */
export function sceneMask(
  cv: OpenCv,
  one: CvMat,
  other: CvMat,
  keep: (mat: CvMat) => CvMat,
  leastRange = LEAST_RANGE,
): CvMat {
  const size = new cv.Size(NEAR_PX, NEAR_PX)
  const box = (side: number): CvMat =>
    keep(cv.matFromArray(side, side, cv.CV_8UC1, new Uint8Array(side * side).fill(1)))
  const near = box(NEAR_PX)
  const ends = [one, other].map((picture) => {
    const [least, most] = [keep(new cv.Mat()), keep(new cv.Mat())]
    cv.erode(picture, least, near)
    cv.dilate(picture, most, near)
    return { least, most }
  })
  const [difference, mean] = [keep(new cv.Mat()), keep(new cv.Mat())]
  cv.absdiff(one, other, difference)
  cv.blur(difference, mean, size)
  const letters = keep(new cv.Mat(one.rows, one.cols, cv.CV_8UC1))
  const free = keep(new cv.Mat(one.rows, one.cols, cv.CV_8UC1))
  const around = keep(new cv.Mat())
  const [a, b] = ends.map(({ least, most }) => ({ least: least.data, most: most.data }))
  const alike = mean.data
  const burntIn = letters.data
  for (let i = 0; i < burntIn.length; i++) {
    const brightest = Math.min(a!.most[i]!, b!.most[i]!)
    const range = Math.min(a!.most[i]! - a!.least[i]!, b!.most[i]! - b!.least[i]!)
    const isLetter = brightest > LETTERS_WHITE && range > LETTERS_RANGE && alike[i]! < LETTERS_ALIKE
    burntIn[i] = isLetter ? 255 : 0
  }
  cv.dilate(letters, around, box(ABOUT_PX))
  const taken = around.data
  const [first, second] = ends.map(({ least, most }) => ({ least: least.data, most: most.data }))
  const out = free.data
  for (let i = 0; i < out.length; i++) {
    const range = Math.min(first!.most[i]! - first!.least[i]!, second!.most[i]! - second!.least[i]!)
    out[i] = taken[i] === 0 && range >= leastRange ? 255 : 0
  }
  return free
}

/** A reduced picture as a matrix; the caller deletes it. */
export function matOf(cv: OpenCv, { width, height, data }: ScenePicture): CvMat {
  return cv.matFromArray(height, width, cv.CV_8UC1, data)
}
