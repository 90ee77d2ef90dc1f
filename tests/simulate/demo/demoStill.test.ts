import sharp from 'sharp'
import { beforeAll, describe, expect, it } from 'vitest'
import type { Point } from '../../../src/math/point.js'
import type { ByteImage } from '../../../src/simulate/camera/codeImage.js'
import type { DemoBackdrop } from '../../../src/simulate/demo/demoBackdropCache.js'
import { demoLight } from '../../../src/simulate/demo/writeDemoLight.js'
import type { DemoLightName } from '../../../src/simulate/yard/demoLight.js'
import { DEMO_STILLS, type DemoStill } from '../../../src/simulate/demo/demoScenario.js'
import { encodeJpeg } from '../../../src/simulate/camera/encodeJpeg.js'
import { encodeBackdrop } from '../../../src/simulate/demo/exposeBackdrop.js'
import { evenImage } from '../../../src/simulate/camera/linearImage.js'
import { takeDemoStill, type TakenDemoStill } from '../../../src/simulate/demo/takeDemoStill.js'
import { expectNear } from '../../nearly.js'

/** A backdrop of even grey: the yard itself is slow to draw and is not what is looked at here. */
function evenBackdrop(name: DemoLightName): DemoBackdrop {
  const light = demoLight(name)
  const full = evenImage({ left: 0, top: 0, width: 3840, height: 2160 }, light.channels, 0.05)
  const half = evenImage({ left: 0, top: 0, width: 1920, height: 1080 }, light.channels, 0.05)
  return { light, full, half, codesAt: (gain) => encodeBackdrop(full, gain) }
}

function stillOf(light: DemoLightName, reference: DemoStill['reference'], tapedM: number): DemoStill {
  return DEMO_STILLS.find(
    (still) => still.light === light && still.reference === reference && still.tapedM === tapedM,
  )!
}

/** Code values of the first channel in a box inside the reference, `share` of its size about its centre. */
function inside(taken: TakenDemoStill, share: number): number[] {
  const { image, truth } = taken
  const [a, b, c, d] = truth.corners
  const at = (s: number, t: number): Point => [
    (a[0] * (1 - s) + b[0] * s) * (1 - t) + (d[0] * (1 - s) + c[0] * s) * t,
    (a[1] * (1 - s) + b[1] * s) * (1 - t) + (d[1] * (1 - s) + c[1] * s) * t,
  ]
  const codes: number[] = []
  for (let i = 0; i <= 40; i += 1) {
    for (let j = 0; j <= 40; j += 1) {
      const [x, y] = at(0.5 + share * (i / 40 - 0.5), 0.5 + share * (j / 40 - 0.5))
      codes.push(image.data[(Math.floor(y) * image.width + Math.floor(x)) * image.channels]!)
    }
  }
  return codes
}

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length

describe('the stills of the demonstration', () => {
  let infrared: DemoBackdrop
  beforeAll(() => {
    infrared = evenBackdrop('infrared')
  })
  /** Taken once and kept: a still takes a while. */
  const album = new Map<DemoStill, TakenDemoStill>()
  const taken = (still: DemoStill): TakenDemoStill => {
    const known = album.get(still) ?? takeDemoStill(infrared, still)
    album.set(still, known)
    return known
  }

  it('are the same bytes every time', () => {
    const still = stillOf('infrared', 'board', 16)
    const one = taken(still)
    const bytes = (taken: TakenDemoStill): Buffer => Buffer.from(taken.image.data.buffer)
    expect(bytes(takeDemoStill(infrared, still)).equals(bytes(one))).toBe(true)
  })

  it('show a plate at white under infrared from 4 to 9 m, and the board at the same marks below it', () => {
    for (const distance of [4, 6, 9]) {
      const plate = inside(taken(stillOf('infrared', 'plate', distance)), 0.94)
      expect(Math.min(...plate), `plate at ${distance} m`).toBe(255)
    }
    for (const distance of [6, 9]) {
      const board = inside(taken(stillOf('infrared', 'board', distance)), 0.9)
      expect(Math.max(...board), `board at ${distance} m`).toBeLessThan(250)
      expect(Math.min(...board), `board at ${distance} m`).toBeGreaterThan(80)
    }
  })

  it('put the board where the truth says: light within its corners, dark just beyond', () => {
    const still = taken(stillOf('infrared', 'board', 12))
    const within = mean(inside(still, 0.92))
    const [a, b, c, d] = still.truth.corners
    const sides = [
      [a, b],
      [b, c],
      [c, d],
      [d, a],
    ] as const
    for (const [from, to] of sides) {
      const middle: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
      const [cx, cy] = still.truth.centre
      const [ox, oy] = [middle[0] - cx, middle[1] - cy]
      const length = Math.hypot(ox, oy)
      const codeAt = (offPx: number): number => {
        const [x, y] = [middle[0] + (ox / length) * offPx, middle[1] + (oy / length) * offPx]
        return still.image.data[Math.floor(y) * still.image.width + Math.floor(x)]!
      }
      expect(codeAt(-4)).toBeGreaterThan(within * 0.75)
      expect(codeAt(5)).toBeLessThan(within * 0.5)
    }
  })

  it('say SIMULATED in a corner, the same in every still, and nothing of it elsewhere', () => {
    const one = taken(stillOf('infrared', 'board', 6)).image
    const other = taken(stillOf('infrared', 'plate', 4)).image
    const strip = (image: ByteImage): number[] =>
      Array.from({ length: 200 }, (_, x) => image.data[2106 * image.width + 30 + x]!)
    expect(strip(one)).toEqual(strip(other))
    expect(Math.max(...strip(one))).toBeGreaterThan(200)
    expect(Math.min(...strip(one))).toBe(24)
  })

  it('blown up from half size keep their size, their truth and half their sharpness', () => {
    const backdrop = evenBackdrop('lamp')
    const blown = takeDemoStill(backdrop, stillOf('lamp', 'board', 12))
    const plain = takeDemoStill(backdrop, stillOf('lamp', 'board', 16))
    expect([blown.image.width, blown.image.height]).toEqual([3840, 2160])
    expectNear(blown.truth.horizontalPxPerM, 2200 / 12, { rel: 0.01 }, 'turned by a few degrees at most')
    expectNear(blown.f10, plain.f10 / 2, { rel: 1e-9 })
    const within = mean(inside(blown, 0.9))
    expect(within).toBeGreaterThan(100)
  })

  it('survive the JPEG: levels within a code value, whatever region is decoded', async () => {
    const still = taken(stillOf('infrared', 'board', 6))
    const bytes = await encodeJpeg(still.image, 92)
    const [x, y] = still.truth.centre.map(Math.round) as [number, number]
    const region = { left: x - 40, top: y - 30, width: 80, height: 60 }
    const decoded = await sharp(bytes).extract(region).raw().toBuffer({ resolveWithObject: true })
    const written: number[] = []
    for (let row = 0; row < region.height; row += 1) {
      for (let column = 0; column < region.width; column += 1) {
        written.push(still.image.data[(region.top + row) * 3840 + region.left + column]!)
      }
    }
    const channels = decoded.info.channels
    const read = [...decoded.data].filter((_, index) => index % channels === 0)
    expectNear(mean(read), mean(written), { abs: 1 })
  })
})
