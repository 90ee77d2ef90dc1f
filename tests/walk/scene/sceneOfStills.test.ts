import { expect, test } from 'vitest'
import type { SceneMatches } from '../../../src/scene/sceneMatches.js'
import { sceneOfStills, type StillOfScene } from '../../../src/walk/scene/sceneOfStills.js'

const [WIDTH, HEIGHT] = [1920, 1080]
const noLens = () => null

function stills(count: number, more: Partial<StillOfScene> = {}): StillOfScene[] {
  return Array.from({ length: count }, (_, i) => ({
    file: `stills/${more.light ?? 'day'}/${i + 1}m.jpg`,
    sha256: String(i),
    light: 'day',
    distanceM: i + 1,
    width: WIDTH,
    height: HEIGHT,
    ...more,
  }))
}

/** Corners all over a picture, found again where a camera that points so many px elsewhere shows them. */
function matchesBy(shiftPx: number): SceneMatches {
  const points = Array.from({ length: 20 * 12 }, (_, i) => {
    const [x, y] = [48 + 96 * (i % 20), 45 + 90 * Math.floor(i / 20)]
    // Each is found a little beside where it is.
    return [x, y, x + shiftPx + 0.05 * Math.sin(7 * i), y + 0.05 * Math.cos(11 * i)]
  }).flat()
  return { points, seen: [84, 84] }
}

test('of 500 stills each is held against one other, once, and those that a knock moved stand together', async () => {
  const pairs: string[] = []
  const isKnocked = ({ distanceM }: StillOfScene): boolean => distanceM <= 100
  const scene = await sceneOfStills(stills(500), noLens, (one, other) => {
    pairs.push(`${one.file} ${other.file}`)
    return Promise.resolve(matchesBy(isKnocked(other) && !isKnocked(one) ? 12 : 0))
  })
  expect([pairs.length, new Set(pairs).size]).toEqual([499, 499])
  expect(scene!.stills.map(({ file }) => file)).toEqual(stills(500).map(({ file }) => file))
  expect(scene!.stills.map(({ group }) => group)).toEqual(
    stills(500).map(({ distanceM }) => (distanceM <= 100 ? 1 : 0)),
  )
  expect(scene!.stills[0]!.shift!.x).toBeCloseTo(12, 1)
})

test('lights of two sizes are not held against each other; a third goes by the one of its size', async () => {
  const sizes: string[] = []
  const scene = await sceneOfStills(
    [
      ...stills(3),
      ...stills(3, { light: 'infrared', width: 1280, height: 720 }),
      ...stills(3, { light: 'lamp' }),
    ],
    noLens,
    (one, other) => {
      sizes.push(`${one.width} ${other.width}`)
      return Promise.resolve(matchesBy(0))
    },
  )
  expect(new Set(sizes)).toEqual(new Set(['1920 1920', '1280 1280']))
  expect(scene!.lights.map(({ light, against }) => [light, against])).toEqual([['lamp', 'day']])
})

test('a still that is no longer what was measured is not told, and the others are', async () => {
  const scene = await sceneOfStills(stills(4), noLens, (one, other) =>
    Promise.resolve([one, other].some(({ file }) => file.endsWith('/2m.jpg')) ? null : matchesBy(0)),
  )
  expect(scene!.stills.map(({ file }) => file)).toEqual([1, 3, 4].map((mark) => `stills/day/${mark}m.jpg`))
})
