import { readFile, rename } from 'node:fs/promises'
import { join } from 'node:path'
import { beforeAll, expect, test } from 'vitest'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { currentResults } from '../../../src/walk/measure/currentResults.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { type WalkResults, resultsSchema } from '../../../src/walk/schemas/resultsSchema.js'
import { resultsText } from '../../../src/walk/schemas/resultsText.js'
import {
  SMALL_WALK_PX_PER_RAD,
  boardCorners,
  boardStill,
  makeSmallWalk,
  put,
  putPicks,
} from '../../journeys/smallWalk.js'
import { expectNear } from '../../nearly.js'
import { temporaryWalk } from '../temporaryWalk.js'

let stills: Map<number, Buffer>
beforeAll(async () => {
  stills = new Map()
  for (const mark of [4, 6, 9]) stills.set(mark, await boardStill(mark, 'jpeg', mark))
})

async function measured(dir: string): Promise<WalkResults> {
  return measureWalk(await readWalk(dir), { workers: 1 })
}

test('a walk is measured, posed and judged, and its results are what their schema says', async () => {
  const dir = await temporaryWalk({})
  await makeSmallWalk(dir)
  const progress: number[] = []
  const results = await measureWalk(await readWalk(dir), {
    workers: 1,
    onProgress: (done) => progress.push(done),
  })
  expect(resultsSchema.safeParse(results).error).toBeUndefined()
  expect(progress).toEqual([1, 2, 3])
  expect(results.promises.map(({ verdict }) => verdict)).toEqual(['met'])
  for (const { distance, density, pose } of results.stills) {
    const truth = SMALL_WALK_PX_PER_RAD / distance!
    expect(density.low).toBeLessThan(truth)
    expect(density.high).toBeGreaterThan(truth)
    // the pose comes from the lens the walk itself measured
    expect(Math.abs(pose?.roll ?? NaN)).toBeLessThan(0.5)
  }
  const [lens] = results.lens
  expectNear(
    lens!.pixelsPerRadian.value,
    SMALL_WALK_PX_PER_RAD,
    { rel: 0.02 },
    'corners are exact, the bend is not known',
  )
})

test('a still whose name is decomposed on the disk is posed like any other', async () => {
  const dir = await temporaryWalk({})
  await makeSmallWalk(dir)
  const [composed, decomposed] = ['NFC', 'NFD'].map((form) => `stills/day/6m-étage.jpg`.normalize(form))
  await rename(join(dir, 'stills/day/6m.jpg'), join(dir, composed!))
  await putPicks(
    dir,
    [4, 6, 9].map((mark) => ({
      file: mark === 6 ? composed! : `stills/day/${mark}m.jpg`,
      corners: boardCorners(mark),
    })),
  )
  await rename(join(dir, composed!), join(dir, decomposed!))
  const results = await measured(dir)
  const still = results.stills.find(({ distance }) => distance === 6)!
  expect(still.file).toBe(decomposed)
  expect(still.pose).not.toBeNull()
  expect(results.failed).toEqual([])
})

test('results stand until walk, picks, grading or a still change, come or go, and each is named', async () => {
  const dir = await temporaryWalk({})
  await makeSmallWalk(dir)
  const why = async () => {
    const current = await currentResults(await readWalk(dir))
    return current.results === null ? current.why : null
  }
  const measureAgain = async () => {
    await put(dir, 'results.json', resultsText(await measured(dir)))
    const { results } = await currentResults(await readWalk(dir))
    // read back they are the same to the byte, for the sheet attaches them
    expect(resultsText(results!)).toBe(await readFile(join(dir, 'results.json'), 'utf8'))
  }
  expect(await why()).toBe('there are no results yet')
  await measureAgain()
  const text = await readFile(join(dir, 'results.json'), 'utf8')
  await put(dir, 'results.json', text.replace(/"method": "[^"]+"/, '"method": "0"'))
  expect(await why()).toBe('the way of measuring has changed since')
  await put(dir, 'results.json', '{}')
  expect(await why()).toBe('results.json is not of this version')
  await put(dir, 'results.json', text)

  await put(dir, 'stills/day/4m.jpg', stills.get(9)!)
  expect(await why()).toBe('stills/day/4m.jpg has changed since')
  await put(dir, 'stills/day/4m.jpg', stills.get(4)!)
  expect(await why()).toBeNull()

  await put(dir, 'stills/day/5m.jpg', stills.get(4)!)
  expect(await why()).toBe('stills/day/5m.jpg has changed since')
  await measureAgain() // it has no corners, which is no reason to measure again
  await rename(join(dir, 'stills/day/5m.jpg'), join(dir, 'gone.aside'))
  expect(await why()).toBe('stills/day/5m.jpg has changed since')
  await measureAgain()

  await put(dir, 'picks.json', `${await readFile(join(dir, 'picks.json'), 'utf8')}\n`)
  expect(await why()).toBe('picks.json has changed since')
  await measureAgain()
  await put(dir, 'walk.yaml', `${await readFile(join(dir, 'walk.yaml'), 'utf8')}grading: mine.yaml\n`)
  const grading = (limit: number) =>
    put(
      dir,
      'mine.yaml',
      `id: mine\nname: Mine\nsource: ours\ngrades: [{ id: observe, name: Observe, limit: ${limit} }]\n`,
    )
  await grading(50)
  expect(await why()).toBe('walk.yaml has changed since')
  await measureAgain()
  await grading(60)
  expect(await why()).toBe('the grading file has changed since')
})
