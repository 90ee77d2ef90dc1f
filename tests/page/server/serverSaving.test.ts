import { cp, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { Conflict, PagePick, Refusal, Saved, StillView } from '../../../src/page/api.js'
import { readPicks } from '../../../src/walk/read/readPicks.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { smallWalkYaml } from '../../journeys/smallWalk.js'
import { type Answer, serveWalk, smallWalk, type ServedWalk } from '../servedWalk.js'

const FILE = 'stills/day/4m.jpg'
const OTHER = 'stills/day/6m.jpg'

const CORNERS = [
  [500.25, 300],
  [780, 301.5],
  [779, 480],
  [501, 478],
] as const
const PICK: PagePick = { reference: 'board', corners: CORNERS, method: 'hand', sigma: 0.3 }

function savePick(page: ServedWalk, still: StillView, pick: PagePick | null): Promise<Answer> {
  const was = still.pick?.version ?? null
  return page.post('/api/pick', { file: still.file, was, sha256: still.head!.sha256, pick })
}

async function assign(
  page: ServedWalk,
  still: StillView,
  mark: string | null,
  light: string | null,
  more = {},
): Promise<Answer> {
  const was = still.entry?.version ?? null
  return page.post('/api/assign', {
    changes: [{ file: still.file, was, mark, light, reference: null }],
    ...more,
  })
}

/** Waits until the page has seen something. */
async function until(seen: () => Promise<boolean>): Promise<void> {
  for (let tries = 0; !(await seen()); tries++) {
    if (tries > 100) throw new Error('it was never seen')
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
}

describe('saving picks', () => {
  it('saves each at once, for the commands to read, and leaves the others as they are', async () => {
    const page = await serveWalk()
    const before = (await readPicks(page.dir)).byFile
    const answer = await savePick(page, await page.still(FILE), PICK)
    expect(answer.status).toBe(200)
    const after = (await readPicks(page.dir)).byFile
    expect(after.get(FILE)![0]!.pick).toEqual({
      kind: 'corners',
      corners: CORNERS,
      method: 'hand',
      sigmaPx: 0.3,
    })
    expect(after.get(OTHER)).toEqual(before.get(OTHER))
    expect([...after.keys()]).toEqual([...before.keys()])
    const [view] = (answer.json as Saved).stills
    expect(view).toMatchObject({ state: 'picked', pick: { corners: CORNERS, sigma: 0.3, stale: false } })
    // what the answer names as its version is what the next change is based on
    const cleared = await savePick(page, view!, null)
    expect((cleared.json as Saved).stills[0]).toMatchObject({ state: 'assigned', pick: null })
    expect((await readPicks(page.dir)).byFile.has(FILE)).toBe(false)
  })

  it('keeps a snapped pick with its covariance', async () => {
    const page = await serveWalk()
    const covariance = Array.from({ length: 8 }, (_, i) =>
      Array.from({ length: 8 }, (__, j) => (i === j ? 0.0025 : 0)),
    )
    const pick: PagePick = {
      reference: 'board',
      corners: CORNERS,
      method: 'snapped',
      sigma: 0.05,
      covariance,
    }
    expect((await savePick(page, await page.still(FILE), pick)).status).toBe(200)
    expect((await readPicks(page.dir)).byFile.get(FILE)![0]!.pick).toMatchObject({
      method: 'snapped',
      covariancePx2: covariance,
    })
  })

  it('loses nothing where two pages change the same still: the later one is told what there is now', async () => {
    const page = await serveWalk()
    const other = await serveWalk(page.dir)
    const [seenHere, seenThere] = [await page.still(FILE), await other.still(FILE)]
    expect((await savePick(page, seenHere, PICK)).status).toBe(200)
    const late = await savePick(other, seenThere, { ...PICK, sigma: 0.9 })
    expect(late.status).toBe(409)
    const conflict = late.json as Conflict
    expect(conflict).toMatchObject({ code: 'conflict', stills: [{ file: FILE, pick: { sigma: 0.3 } }] })
    expect((await readPicks(page.dir)).byFile.get(FILE)![0]!.pick.sigmaPx).toBe(0.3)
    // and once it has seen that, it may
    expect((await savePick(other, conflict.stills[0]!, { ...PICK, sigma: 0.9 })).status).toBe(200)
    await until(async () => (await page.still(FILE)).pick?.sigma === 0.9)
  })

  it('joins what many pages change on different stills at the same time', async () => {
    const dir = await smallWalk()
    const files = await Promise.all(
      Array.from({ length: 12 }, async (_, i) => {
        const file = `stills/day/${10 + i}m.jpg`
        await cp(join(dir, FILE), join(dir, file))
        return file
      }),
    )
    const pages = [await serveWalk(dir), await serveWalk(dir)]
    const answers = await Promise.all(
      files.map(async (file, i) => savePick(pages[i % 2]!, await pages[i % 2]!.still(file), PICK)),
    )
    expect(answers.map(({ status }) => status)).toEqual(files.map(() => 200))
    const saved = (await readPicks(dir)).byFile
    for (const file of files) expect(saved.get(file)![0]!.pick).toMatchObject({ corners: CORNERS })
    expect(saved.has(OTHER)).toBe(true)
  })

  it('joins what was written by hand meanwhile, and refuses to write over a file it cannot read', async () => {
    const page = await serveWalk()
    const still = await page.still(FILE)
    const file = join(page.dir, 'picks.json')
    const byHand = (await readFile(file, 'utf8')).replaceAll('"sigma": 0.5', '"sigma": 0.7')
    await writeFile(file, byHand)
    const conflict = await savePick(page, still, PICK)
    expect(conflict.status).toBe(409) // its own entry was changed too
    expect((await savePick(page, (conflict.json as Conflict).stills[0]!, PICK)).status).toBe(200)
    expect((await readPicks(page.dir)).byFile.get(OTHER)![0]!.pick.sigmaPx).toBe(0.7)
    const now = await page.still(FILE)
    await writeFile(file, `${byHand.slice(0, -20)}`)
    const refused = await savePick(page, now, null)
    expect(refused.status).toBe(422)
    expect((refused.json as Refusal).message).toContain('picks.json')
    expect(await readFile(file, 'utf8')).toBe(byHand.slice(0, -20))
    await until(async () => (await page.walk()).faults.some((fault) => fault.includes('picks.json')))
    await writeFile(file, byHand)
    await until(async () => (await page.walk()).faults.length === 0)
  })

  it('refuses points of another still, another kind, or none', async () => {
    const page = await serveWalk()
    const still = await page.still(FILE)
    const code = async (answer: Promise<Answer>) => ((await answer).json as Refusal).code
    const changed = { ...still, head: { ...still.head!, sha256: '0'.repeat(64) } }
    expect(await code(savePick(page, changed, PICK))).toBe('still-changed')
    const ends = {
      reference: 'board',
      ends: [
        [1, 1],
        [9, 9],
      ],
      method: 'hand',
    } as unknown as PagePick
    expect(await code(savePick(page, still, ends))).toBe('pick-other-kind')
    expect(await code(savePick(page, still, { reference: 'board', method: 'hand' }))).toBe('bad-pick')
    expect(await code(savePick(page, still, { ...PICK, covariance: [[1]] }))).toBe('bad-pick')
    expect(await code(savePick(page, still, { ...PICK, reference: 'none' }))).toBe('reference-unknown')
  })
})

describe('what pages are told', () => {
  it('tells each change with the page that made it, and none of its own as made by another hand', async () => {
    const page = await serveWalk()
    const other = await serveWalk(page.dir)
    const [here, there] = [await page.events(), await other.events()]
    let still = await page.still(FILE)
    for (let k = 0; k < 6; k++) {
      const saved = (await savePick(page, still, { ...PICK, sigma: (30 + k) / 100 })).json as Saved
      still = saved.stills[0]!
      await new Promise((resolve) => setTimeout(resolve, 250)) // the folder is looked at meanwhile
    }
    const own = here.filter((event) => event.kind === 'stills' && event.by === 'test')
    expect(own.map((event) => event.kind === 'stills' && event.stills[0]?.pick?.sigma)).toEqual([
      0.3, 0.31, 0.32, 0.33, 0.34, 0.35,
    ])
    expect(here.filter(({ kind }) => kind === 'walk' || kind === 'fault')).toEqual([])
    const told = there.filter((event) => event.kind === 'walk')
    expect(told.length).toBeGreaterThan(0)
    for (const event of told)
      expect(event).toMatchObject({ by: null, message: 'picks.json was changed elsewhere' })
  })

  it('tells what else came into a file in the moment it was saved', async () => {
    const page = await serveWalk()
    const still = await page.still(FILE)
    const told = await page.events()
    const file = join(page.dir, 'picks.json')
    const picks = JSON.parse(await readFile(file, 'utf8')) as { stills: Record<string, { sigma: number }> }
    picks.stills[OTHER]!.sigma = 0.8
    await writeFile(file, JSON.stringify(picks))
    expect((await savePick(page, still, PICK)).status).toBe(200)
    await until(() => Promise.resolve(told.some((event) => event.kind === 'walk' && event.message !== null)))
    expect((await page.still(OTHER)).pick?.sigma).toBe(0.8)
  })
})

describe('saving where stills belong', () => {
  async function withExport(): Promise<{ page: ServedWalk; file: string }> {
    const dir = await smallWalk()
    const file = 'stills/export 0001.jpg'
    await cp(join(dir, FILE), join(dir, file))
    return { page: await serveWalk(dir), file }
  }

  it('writes an entry that the commands follow, changes it, and takes it out again, comments kept', async () => {
    const { page, file } = await withExport()
    const yaml = join(page.dir, 'walk.yaml')
    const written = smallWalkYaml('# the end\n').replace(
      'references:',
      '# what is carried\nreferences:   # all of it',
    )
    await writeFile(yaml, written)
    await until(async () => (await page.walk()).revision > 1)
    const still = await page.still(file)
    expect(still).toMatchObject({ state: 'unassigned', mark: null, light: null })
    const answer = await assign(page, still, '12 m', 'day')
    const [now] = (answer.json as Saved).stills
    expect(now).toMatchObject({ state: 'assigned', mark: { distanceM: 12, text: '12 m' }, light: 'day' })
    expect((await readWalk(page.dir)).stills).toMatchObject([{ file, distanceM: 12, light: 'day' }])
    expect(await readFile(yaml, 'utf8')).toBe(
      `${written}stills:\n  - { file: stills/export 0001.jpg, mark: 12 m, light: day }\n`,
    )
    const [then] = ((await assign(page, now!, '40 ft', 'day')).json as Saved).stills
    expect(then!.entry).toMatchObject({ mark: '40 ft' })
    const [gone] = ((await assign(page, then!, null, null)).json as Saved).stills
    expect(gone).toMatchObject({ state: 'unassigned', entry: null })
    expect(await readFile(yaml, 'utf8')).toBe(written)
  })

  it('assigns many at once or none', async () => {
    const { page, file } = await withExport()
    const before = await readFile(join(page.dir, 'walk.yaml'), 'utf8')
    const changes = [file, FILE, OTHER].map((one) => ({
      file: one,
      was: null,
      mark: '12 m',
      light: 'day',
      reference: null,
    }))
    const bad = [...changes.slice(0, 2), { ...changes[2]!, mark: '12' }]
    const refused = await page.post('/api/assign', { changes: bad })
    expect([refused.status, (refused.json as Refusal).file]).toEqual([422, OTHER])
    const late = await page.post('/api/assign', {
      changes: [...changes.slice(0, 2), { ...changes[2]!, was: 'another' }],
    })
    expect(late.status).toBe(409)
    expect(await readFile(join(page.dir, 'walk.yaml'), 'utf8')).toBe(before)
    expect((await page.post('/api/assign', { changes })).status).toBe(200)
    expect((await readWalk(page.dir)).stills.map((one) => one.file)).toEqual([file, FILE, OTHER])
  })

  it('asks before it adds a light, and takes a known one in any spelling', async () => {
    const { page, file } = await withExport()
    const still = await page.still(file)
    const asked = await assign(page, still, '12 m', 'lantern')
    expect((asked.json as Refusal).code).toBe('unknown-light')
    const [added] = ((await assign(page, still, '12 m', 'lantern', { addLights: true })).json as Saved).stills
    expect(added!.light).toBe('lantern')
    expect((await readWalk(page.dir)).lights).toEqual(['day', 'lantern'])
    const [back] = ((await assign(page, added!, '12 m', 'DAY')).json as Saved).stills
    expect(back!.light).toBe('day')
    for (const [mark, light, code] of [
      [null, 'day', 'no-mark'],
      ['12 m', null, 'no-light'],
      ['-3 m', 'day', 'negative-length'],
    ] as const)
      expect(((await assign(page, back!, mark, light)).json as Refusal).code).toBe(code)
  })

  it('writes no entry that says what the name says already', async () => {
    const page = await serveWalk()
    const before = await readFile(join(page.dir, 'walk.yaml'), 'utf8')
    expect((await assign(page, await page.still(FILE), '4 m', 'day')).status).toBe(200)
    expect(await readFile(join(page.dir, 'walk.yaml'), 'utf8')).toBe(before)
  })

  it('moves a pick to the reference its still is assigned to, unless its points do not fit', async () => {
    const page = await serveWalk()
    const yaml = join(page.dir, 'walk.yaml')
    const more = '  panel: { width: 300 mm, height: 200 mm }\n  staff: { length: 2 m }\nmarks:'
    await writeFile(yaml, (await readFile(yaml, 'utf8')).replace('marks:', more))
    await until(async () => (await page.walk()).references.length === 3)
    const move = (reference: string) =>
      page.post('/api/assign', { changes: [{ file: FILE, was: null, mark: null, light: null, reference }] })
    expect(((await move('staff')).json as Refusal).code).toBe('pick-other-kind')
    const [moved] = ((await move('panel')).json as Saved).stills
    expect(moved).toMatchObject({
      reference: 'panel',
      pick: { reference: 'panel' },
      entry: { reference: 'panel' },
    })
    expect((await readPicks(page.dir)).byFile.get(FILE)![0]!.reference).toBe('panel')
  })

  it("saves a still's pick of one reference and keeps that of the other, which is shown once the first is gone", async () => {
    const page = await serveWalk()
    const yaml = join(page.dir, 'walk.yaml')
    const more = '  panel: { width: 300 mm, height: 200 mm }\nmarks:'
    await writeFile(yaml, (await readFile(yaml, 'utf8')).replace('marks:', more))
    const file = join(page.dir, 'picks.json')
    const picks = JSON.parse(await readFile(file, 'utf8')) as { stills: Record<string, object> }
    const board = picks.stills[OTHER]!
    const panel = { ...board, reference: 'panel', sigma: 0.4, doubts: [{ code: 'outline-doubtful' }] }
    picks.stills[OTHER] = [board, panel]
    await writeFile(file, JSON.stringify(picks))
    await until(async () => (await page.walk()).references.length === 2)
    await until(async () => (await page.still(OTHER)).state === 'picked')
    const entryOf = async (): Promise<unknown> =>
      (JSON.parse(await readFile(file, 'utf8')) as { stills: Record<string, unknown> }).stills[OTHER]

    expect((await savePick(page, await page.still(OTHER), { ...PICK, reference: 'board' })).status).toBe(200)
    expect(await entryOf()).toMatchObject([{ reference: 'board', sigma: 0.3, corners: CORNERS }, panel])

    const shown = await page.still(OTHER)
    const onPanel = await savePick(page, shown, { ...PICK, reference: 'panel' })
    expect([onPanel.status, await entryOf()]).toMatchObject([409, [{ reference: 'board' }, panel]])

    expect((await savePick(page, shown, null)).status).toBe(200)
    expect(await entryOf()).toEqual(panel)
    expect((await page.still(OTHER)).pick).toMatchObject({ reference: 'panel', sigma: 0.4 })
  })

  it('tells a walk.yaml that was broken by hand, goes on with the sound one, and saves nothing over it', async () => {
    const page = await serveWalk()
    const yaml = join(page.dir, 'walk.yaml')
    const sound = await readFile(yaml, 'utf8')
    await writeFile(yaml, `${sound}marks: [`)
    await until(async () => (await page.walk()).faults.length > 0)
    const { faults, stills, site } = await page.walk()
    expect(faults[0]).toContain('walk.yaml')
    expect([stills.length, site]).toEqual([3, 'Net loft'])
    expect((await assign(page, await page.still(FILE), '5 m', 'day')).status).toBe(422)
    expect(await readFile(yaml, 'utf8')).toBe(`${sound}marks: [`)
    await writeFile(yaml, sound)
    await until(async () => (await page.walk()).faults.length === 0)
  })

  it('sees stills come, change and go', async () => {
    const page = await serveWalk()
    await cp(join(page.dir, FILE), join(page.dir, 'stills/day/11m.jpg'))
    await until(async () => (await page.walk()).stills.length === 4)
    await cp(join(page.dir, OTHER), join(page.dir, `${FILE}.new`))
    await rename(join(page.dir, `${FILE}.new`), join(page.dir, FILE))
    await until(async () => (await page.still(FILE)).pick?.stale === true)
    expect((await page.still(FILE)).problems.map(({ code }) => code)).toContain('pick-stale')
    await rm(join(page.dir, 'stills/day/11m.jpg'))
    await until(async () => (await page.walk()).stills.length === 3)
  })
})
