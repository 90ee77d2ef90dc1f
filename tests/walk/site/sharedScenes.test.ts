import { createHash } from 'node:crypto'
import sharp from 'sharp'
import { expect, test } from 'vitest'
import type { WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import { sharedScenes, sharedSceneWords } from '../../../src/walk/site/sharedScenes.js'
import type { SiteWalk } from '../../../src/walk/site/siteWalk.js'
import { put } from '../../journeys/smallWalk.js'
import { type SiteKind, SceneSite } from '../../support/sceneSite.js'
import { temporaryWalk } from '../temporaryWalk.js'

const [WIDTH, HEIGHT] = [960, 540]
const FILE = 'stills/day/12m.jpg'
const site = (seed: number, kind: SiteKind = 'houses') => new SceneSite(seed, kind, WIDTH, HEIGHT, 900, 1)

/** A walk of one still of a site. */
async function walkOf(id: string, of: SceneSite, seed: number): Promise<SiteWalk> {
  const { data } = of.shoot({ light: 'day', seed, walker: 0.3 })
  const jpeg = await sharp(data, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } })
    .jpeg({ quality: 70 })
    .toBuffer()
  const dir = await temporaryWalk({})
  await put(dir, FILE, jpeg)
  const still = {
    file: FILE,
    sha256: createHash('sha256').update(jpeg).digest('hex'),
    light: 'day',
    distance: 12,
    width: WIDTH,
    height: HEIGHT,
    sameAs: null,
    problems: [],
  }
  const results = { walk: { lights: ['day'] }, stills: [still], scene: null } as unknown as WalkResults
  const walk = { camera: { name: `Camera ${id}`, id, serial: null } } as SiteWalk['walk']
  return { dir, walk, results, resultsSha256: '', why: '' }
}

test('one scene under two names is told, and no scene of another camera, nor of the same one', async () => {
  const gate = await walkOf('C-01', site(61), 1)
  const slip = await walkOf('C-02', site(61), 2)
  const loft = await walkOf('C-03', site(62), 3)
  const later = await walkOf('C-01', site(61), 4)
  const scenes = await sharedScenes([gate, slip, loft, later], [])
  expect(scenes.map(({ dirs }) => dirs)).toEqual([
    [gate.dir, slip.dir],
    [slip.dir, later.dir],
  ])
  expect(sharedSceneWords(scenes[0]!)).toBe(
    `${gate.dir}/${FILE} and ${slip.dir}/${FILE} show one scene, as one camera would, or two side by side`,
  )
})

test('walks that share pictures are not told twice', async () => {
  const [one, other] = [await walkOf('C-01', site(61), 1), await walkOf('C-02', site(61), 2)]
  const shared = [{ dirs: [one.dir, other.dir], files: [FILE, FILE], count: 1, certain: true }] as const
  expect(await sharedScenes([one, other], shared)).toEqual([])
})

test('a bare wall tells nothing', async () => {
  const [one, other] = [
    await walkOf('C-01', site(63, 'blank'), 1),
    await walkOf('C-02', site(63, 'blank'), 2),
  ]
  expect(await sharedScenes([one, other], [])).toEqual([])
})
