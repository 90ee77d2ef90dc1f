import sharp from 'sharp'
import { expect, test } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { sceneLines } from '../../../src/grade/scene/sceneFindings.js'
import { measureWalk, readWalk, type WalkResults } from '../../../src/index.js'
import { sceneWordOf } from '../../../src/page/browser/strip/sceneWord.js'
import { differingFields } from '../../../src/walk/measure/differingFields.js'
import { judgeAgain } from '../../../src/walk/measure/judgeAgain.js'
import { planMeasuring } from '../../../src/walk/measure/planMeasuring.js'
import { put, putPicks } from '../../journeys/smallWalk.js'
import { SceneSite, type SiteLight, type SitePose } from '../../support/sceneSite.js'
import { temporaryWalk } from '../temporaryWalk.js'

const [WIDTH, HEIGHT, PER_RADIAN] = [960, 540, 900]
const here = new SceneSite(61, 'houses', WIDTH, HEIGHT, PER_RADIAN, 1)
const elsewhere = new SceneSite(62, 'houses', WIDTH, HEIGHT, PER_RADIAN, 1)
const YAML = `site: Net loft
date: 2026-03-14
camera:
  name: Loft camera
  image: { width: ${WIDTH}, height: ${HEIGHT} }
  fieldOfView: { horizontal: 56.1, vertical: 33.4 }
references:
  board: { width: 600 mm, height: 400 mm }
lights: [day, infrared]
promises:
  - { grade: observe, at: 9 m, light: day }
`

interface Exported extends SitePose {
  readonly light?: SiteLight
  readonly site?: SceneSite
}

/** Stills that were taken before: most walks show the same three. */
const taken = new Map<string, ReturnType<typeof take>>()

/** A board over the site, at a distance: its corners, and the still. */
function still(distanceM: number, how: Exported): ReturnType<typeof take> {
  if (how.site !== undefined) return take(distanceM, how)
  const key = JSON.stringify([distanceM, how])
  const known = taken.get(key) ?? take(distanceM, how)
  taken.set(key, known)
  return known
}

async function take(distanceM: number, { light = 'day', site = here, ...pose }: Exported) {
  // Each exposure has grain of its own: two with one grain would be one picture.
  const seed = distanceM + (light === 'day' ? 0 : 100)
  const shot = site.shoot({ light, seed, ...pose })
  const perM = (PER_RADIAN * (pose.zoom ?? 1)) / distanceM
  const [left, top] = [WIDTH / 2 - 0.3 * perM + 0.3, HEIGHT / 2 - 0.2 * perM + 0.2]
  const [right, bottom] = [left + 0.6 * perM, top + 0.4 * perM]
  const share = (low: number, high: number, at: number): number =>
    Math.max(0, Math.min(high, at + 1) - Math.max(low, at))
  const around = 0.1 * perM
  const random = seededRandom(seed)
  const data = shot.data.map((code, i) => {
    const [x, y] = [i % WIDTH, Math.floor(i / WIDTH)]
    if (x < left - around || x > right + around || y < top - around || y > bottom + around) return code
    const white = share(left, right, x) * share(top, bottom, y)
    return Math.round(60 + 140 * white + 2 * random.normal())
  })
  const png = await sharp(data, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } })
    .png()
    .toBuffer()
  const corners: [number, number][] = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ]
  return { file: `stills/${light}/${distanceM}m.png`, png, corners }
}

const DAY = [4, 6, 9, 12]

async function measured(
  otherwise: Readonly<Record<number, Exported>>,
  { infrared = [] as readonly Exported[], scene = true } = {},
): Promise<WalkResults> {
  const dir = await temporaryWalk({ 'walk.yaml': YAML })
  const stills = await Promise.all([
    ...DAY.map((distanceM) => still(distanceM, otherwise[distanceM] ?? {})),
    ...infrared.map((one, i) => still(DAY[i]!, { ...one, light: 'infrared' })),
  ])
  for (const { file, png } of stills) await put(dir, file, png)
  await putPicks(dir, stills)
  const walk = await readWalk(dir)
  const results = await measureWalk(walk, { workers: 1, scene })
  // What is judged again from the results alone, with no picture, comes out the same.
  expect(differingFields(results, await judgeAgain(walk, await planMeasuring(walk), results))).toEqual([])
  return results
}

const codes = ({ findings }: WalkResults): string[] => findings.map(({ code }) => code)
const leftOut = ({ marks }: WalkResults): number[] =>
  marks.flatMap((mark) => (mark.leftOut ? [mark.distance] : []))

test('a camera that stood still by day and by night is said to have', async () => {
  const results = await measured({}, { infrared: [{}, {}] })
  expect(results.scene!.stills.map(({ group }) => group)).toEqual([0, 0, 0, 0, 0, 0])
  expect(results.scene!.lights.map(({ light, against }) => [light, against])).toEqual([['infrared', 'day']])
  expect(codes(results)).not.toContain('camera-turned')
  expect(codes(results)).not.toContain('zoomed-between-lights')
  expect(leftOut(results)).toEqual([])
  const [day] = sceneLines(results.scene, results.stills)
  expect(day).toMatch(/^day: the scene stood still within 0\.0\d+ degrees over 4 stills$/)
})

test('a knock between two marks is found with its angle, and leaves its still in', async () => {
  const results = await measured({ 9: { pan: 0.4, tilt: -0.1 } })
  const found = results.findings.find(({ code }) => code === 'camera-turned')!
  expect(found.message).toMatch(
    /stills\/day\/9m\.png the camera points 0\.40?\d* degrees to the right and 0\.1\d* up/,
  )
  expect(found.low! < Math.hypot(0.4, 0.1) && found.high! > Math.hypot(0.4, 0.1)).toBe(true)
  expect(results.scene!.stills.find(({ file }) => file.endsWith('9m.png'))!.group).toBe(1)
  const [day] = sceneLines(results.scene, results.stills)
  expect(day).toMatch(/^day: the scene stood still within 0\.0\d+ degrees over 3 of 4 stills$/)
  expect(leftOut(results)).toEqual([])
})

test('it does not matter whether the still that the others are held against was the knocked one', async () => {
  const results = await measured({ 12: { pan: 0.4 } })
  const found = results.findings.filter(({ code }) => code === 'camera-turned')
  expect(found.map(({ message }) => message)).toEqual([expect.stringContaining('12m.png')])
  expect(found[0]!.message).toContain('to the right')
})

test('an enlarged still leaves the fit: its promise goes by the others', async () => {
  const plain = await measured({})
  const results = await measured({ 12: { zoom: 1.1 } })
  const [why] = results.stills
    .find(({ file }) => file.endsWith('12m.png'))!
    .problems.filter(({ code }) => code === 'enlarged-scene')
  expect(why!.message).toMatch(/its scene is (9\.\d+|10\.\d+) \(.*\) % larger/)
  expect(leftOut(results)).toEqual([12])
  const [a, b] = [plain, results].map(({ promises }) => promises[0]!.value!)
  expect(Math.abs(a! / b! - 1)).toBeLessThan(0.005)
})

test("another camera's still leaves the fit", async () => {
  const results = await measured({ 6: { site: elsewhere } })
  const still6 = results.stills.find(({ file }) => file.endsWith('6m.png'))!
  expect(still6.problems.map(({ code }) => code)).toContain('another-view')
  expect(results.scene!.stills.find(({ file }) => file.endsWith('6m.png'))).toMatchObject({
    shift: null,
    u: null,
  })
  expect(leftOut(results)).toEqual([6])
})

test('two against two show no more than that they differ: none counts', async () => {
  const results = await measured({ 6: { site: elsewhere }, 9: { site: elsewhere } })
  expect(leftOut(results)).toEqual(DAY)
  expect(results.promises[0]!.verdict).toBe('not shown')
})

test('a light that was zoomed is found by its scene, however few its marks', async () => {
  const results = await measured({}, { infrared: [{ zoom: 1.02 }] })
  const found = results.findings.find(({ code }) => code === 'zoomed-between-lights')!
  expect(found.light).toBe('infrared')
  expect(Math.abs(found.value! - 0.02)).toBeLessThan(0.003)
})

test('a light of one still is not told, and why', async () => {
  const results = await measured({}, { infrared: [{}] })
  expect(sceneLines(results.scene, results.stills)[1]).toBe(
    'infrared: it is not known whether the scene stood still, because there is only one still',
  )
})

test('the strip of the page says which stills lie elsewhere', async () => {
  const results = await measured({ 4: { site: elsewhere }, 6: { pan: 0.4 }, 12: {} })
  expect(DAY.map((distanceM) => sceneWordOf(results, `stills/day/${distanceM}m.png`))).toEqual([
    'another view',
    'camera turned',
    null,
    null,
  ])
})

test('where nobody is to look, nothing is told and no still is left out for its scene', async () => {
  const results = await measured({ 12: { zoom: 1.1 } }, { scene: false })
  expect(results.scene).toBeNull()
  expect(results.stills.flatMap(({ problems }) => problems).map(({ code }) => code)).not.toContain(
    'enlarged-scene',
  )
})
