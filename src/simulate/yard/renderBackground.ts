import { bodyBounds, type Bounds } from './bodyBounds.js'
import { stationPosition, viewDirection, type CameraStation } from '../camera/cameraStation.js'
import type { DemoLight, Irradiance } from './demoLight.js'
import { demoYard } from './demoYard.js'
import { groundShadows } from './groundShadows.js'
import type { LinearImage } from '../camera/linearImage.js'
import { lookScratch, seeYard, type YardView } from './seeYard.js'

/** Looks per pixel and axis where an outline or a step of light crosses it. */
const FINE_LOOKS = 3
/** A step between neighbours, relative to their sum, that calls for fine looks. */
const STEP_SHARE = 0.16

/**
 * The yard without anyone in it, in linear light, whole picture: one look a pixel, several where outlines cross it. It is a
 * backdrop: nothing is measured on it.
 */
export function renderBackground(station: CameraStation, light: DemoLight): LinearImage {
  const { width, height } = station
  const { channels } = light
  const bodies = demoYard()
  const view: YardView = {
    from: stationPosition(station),
    light,
    shadows: groundShadows(light, bodies),
    pixelsPerRadian: station.lens.pixelsPerRadian,
  }
  const scratch = lookScratch()
  const out: Irradiance = { red: 0, green: 0, blue: 0 }
  /** What is seen at a place of the picture, px, its light left in `out`; -1 is nothing. */
  const look = (x: number, y: number, candidates: readonly number[]): number => {
    const direction = viewDirection(station, [x, y])
    if (direction !== null) return seeYard(view, bodies, candidates, direction, scratch, out)
    out.red = out.green = out.blue = 0
    return -1
  }
  const near = bodiesNear(
    bodies.map((body) => bodyBounds(station, body)),
    width,
    height,
  )
  const data = new Float32Array(width * height * channels)
  const seen = new Int16Array(width * height)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const at = y * width + x
      seen[at] = look(x + 0.5, y + 0.5, near(x, y))
      data[at * channels] = out.red
      if (channels === 3) {
        data[at * 3 + 1] = out.green
        data[at * 3 + 2] = out.blue
      }
    }
  const image = { left: 0, top: 0, width, height, channels, data }
  for (const at of stepsIn(image, seen)) {
    const [x, y] = [at % width, Math.floor(at / width)]
    const candidates = near(x, y)
    const sum = [0, 0, 0]
    for (let k = 0; k < FINE_LOOKS * FINE_LOOKS; k += 1) {
      const fx = x + ((k % FINE_LOOKS) + 0.5) / FINE_LOOKS
      look(fx, y + (Math.floor(k / FINE_LOOKS) + 0.5) / FINE_LOOKS, candidates)
      sum[0]! += out.red
      sum[1]! += out.green
      sum[2]! += out.blue
    }
    for (let channel = 0; channel < channels; channel += 1)
      data[at * channels + channel] = sum[channel]! / FINE_LOOKS ** 2
  }
  return image
}

/** Which bodies' bounds hold a pixel, by their places in the list; the answer is kept along a row while it stays the same. */
function bodiesNear(
  bounds: readonly Bounds[],
  width: number,
  height: number,
): (x: number, y: number) => readonly number[] {
  const inRow = Array.from({ length: height }, (_, y) =>
    bounds.flatMap((bound, index) => (y >= bound.top && y < bound.bottom ? [index] : [])),
  )
  let span = { y: -1, from: 0, to: 0, candidates: [] as number[] }
  return (x, y) => {
    if (y === span.y && x >= span.from && x < span.to) return span.candidates
    span = { y, from: x, to: width, candidates: [] }
    for (const index of inRow[y]!) {
      const { left, right } = bounds[index]!
      if (x >= left && x < right) span.candidates.push(index)
      if (left > x) span.to = Math.min(span.to, left)
      if (right > x) span.to = Math.min(span.to, right)
    }
    return span.candidates
  }
}

/** The pixels an outline or a step of light crosses, row by row; `seen` is what each shows. */
function stepsIn({ width, height, channels, data }: LinearImage, seen: Int16Array): number[] {
  const middle = channels === 3 ? 1 : 0
  const rough = (at: number, other: number): boolean => {
    if (seen[at] !== seen[other]) return true
    const [a, b] = [data[at * channels + middle]!, data[other * channels + middle]!]
    return Math.abs(a - b) > STEP_SHARE * (a + b) + 0.002
  }
  const marked = new Uint8Array(width * height)
  for (let y = 0; y < height - 1; y += 1)
    for (let x = 0; x < width - 1; x += 1) {
      const at = y * width + x
      if (rough(at, at + 1)) marked[at] = marked[at + 1] = 1
      if (rough(at, at + width)) marked[at] = marked[at + width] = 1
    }
  const steps: number[] = []
  marked.forEach((mark, at) => mark === 1 && steps.push(at))
  return steps
}
