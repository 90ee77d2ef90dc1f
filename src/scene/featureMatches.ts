import { cellOf } from './cells.js'
import { type CvMat, type OpenCv, withOpenCv } from './openCv.js'
import { matOf, sceneMask } from './sceneMask.js'
import { type SceneMatches, toStills } from './sceneMatches.js'
import type { ScenePicture } from './scenePicture.js'

/** So many features of a cell are kept, the strongest, and so many of a picture. */
const MOST_A_CELL = 10
const MOST = 840
/** The nearest feature must be nearer than the second by this much (D. Lowe's ratio). */
const RATIO = 0.8

interface Features {
  readonly places: readonly (readonly [number, number])[]
  /** Their descriptors, `words` numbers of 32 bits each. */
  readonly bits: Int32Array
  readonly words: number
  /** In how many cells there are some. */
  readonly cells: number
}

/**
 * Features of two pictures (AKAZE) that are each other's nearest: slower than following corners, and finds an enlarged or cropped picture too.
 * @throws an Error with OpenCV's own words where it fails
 */
export function featureMatches(one: ScenePicture, other: ScenePicture): SceneMatches {
  return withOpenCv((cv, keep) => {
    const pictures = [one, other].map((picture) => keep(matOf(cv, picture)))
    const isOneSize = one.width === other.width && one.height === other.height
    // It is the same mask whichever of the two comes first.
    const free = isOneSize ? sceneMask(cv, pictures[0]!, pictures[1]!, keep, 0) : null
    const [a, b] = [one, other].map((still, i) => featuresOf(detect(cv, still, pictures[i]!), still, free))
    const [there, back] = [nearest(a!, b!), nearest(b!, a!)]
    const points = there.flatMap((to, from) =>
      to >= 0 && back[to] === from ? [...a!.places[from]!, ...b!.places[to]!] : [],
    )
    return { points: toStills(points, one, other), seen: [a!.cells, b!.cells] }
  })
}

interface Detected {
  readonly places: readonly (readonly [number, number])[]
  /** Strongest first: their indices. */
  readonly ranked: readonly number[]
  readonly descriptors: Uint8Array
  readonly descriptorBytes: number
}

/** What was found in pictures that are still held: one still of a light is held against all others. */
const detected = new WeakMap<ScenePicture, Detected>()

function detect(cv: OpenCv, of: ScenePicture, picture: CvMat): Detected {
  const known = detected.get(of)
  if (known !== undefined) return known
  const [found, descriptors, all] = [new cv.KeyPointVector(), new cv.Mat(), new cv.Mat()]
  const detector = new cv.AKAZE()
  try {
    detector.detectAndCompute(picture, all, found, descriptors)
    const points = Array.from({ length: found.size() }, (_, index) => found.get(index))
    const made = {
      places: points.map(({ pt }) => [pt.x, pt.y] as const),
      ranked: [...points.keys()].sort((a, b) => points[b]!.response - points[a]!.response || a - b),
      descriptors: descriptors.data.slice(),
      descriptorBytes: descriptors.cols,
    }
    detected.set(of, made)
    return made
  } finally {
    for (const one of [found, descriptors, all, detector]) one.delete()
  }
}

function featuresOf(
  { places, ranked, descriptors, descriptorBytes }: Detected,
  { width, height }: ScenePicture,
  free: CvMat | null,
): Features {
  const inCell = new Map<number, number>()
  const kept = ranked
    .filter((index) => {
      const [x, y] = places[index]!
      if (free !== null && free.data[Math.round(y) * width + Math.round(x)] === 0) return false
      const cell = cellOf(x, y, width, height)
      const before = inCell.get(cell) ?? 0
      inCell.set(cell, before + 1)
      return before < MOST_A_CELL
    })
    .slice(0, MOST)
  const words = Math.ceil(descriptorBytes / 4)
  const bytes = new Uint8Array(4 * words * kept.length)
  kept.forEach((index, i) => {
    const from = index * descriptorBytes
    bytes.set(descriptors.subarray(from, from + descriptorBytes), 4 * words * i)
  })
  return {
    places: kept.map((index) => places[index]!),
    bits: new Int32Array(bytes.buffer),
    words,
    cells: inCell.size,
  }
}

/** Of each feature the nearest among others by the bits in which they differ; -1 where a second is about as near. */
function nearest(of: Features, among: Features): number[] {
  const { words } = of
  return of.places.map((_, i) => {
    let [best, least, second] = [-1, Infinity, Infinity]
    for (let j = 0; j < among.places.length; j++) {
      let bits = 0
      for (let k = 0; k < words && bits < second; k++)
        bits += bitCount(of.bits[i * words + k]! ^ among.bits[j * words + k]!)
      if (bits < least) [best, least, second] = [j, bits, least]
      else if (bits < second) second = bits
    }
    return least < RATIO * second ? best : -1
  })
}

/** How many bits of 32 are set (H. Warren, Hacker's Delight, 5-1). */
function bitCount(word: number): number {
  let bits = word - ((word >>> 1) & 0x55555555)
  bits = (bits & 0x33333333) + ((bits >>> 2) & 0x33333333)
  return Math.imul((bits + (bits >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24
}
