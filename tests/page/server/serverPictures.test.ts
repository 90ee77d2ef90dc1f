import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import type { MeasureAnswer, ResultsView, SnapAnswer } from '../../../src/page/api.js'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { resultsText } from '../../../src/walk/schemas/resultsText.js'
import { boardCorners, put } from '../../journeys/smallWalk.js'
import { expectNear } from '../../nearly.js'
import { serveWalk, smallWalk } from '../servedWalk.js'

const FILE = 'stills/day/4m.jpg'

const pixels = async (bytes: Buffer) =>
  sharp(bytes).removeAlpha().toColourspace('srgb').raw().toBuffer({ resolveWithObject: true })
const queryOf = ({ file, stamp }: { file: string; stamp: string }) =>
  `file=${encodeURIComponent(file)}&stamp=${stamp}`

describe('pictures of stills', () => {
  it("gives the still's own pixels in tiles of level 0, and the whole of it reduced in others", async () => {
    const { dir, still, get } = await serveWalk()
    const query = queryOf(await still(FILE))
    const whole = await pixels(await readFile(join(dir, FILE)))
    expect([whole.info.width, whole.info.height]).toEqual([1280, 720])
    const tile = await get(`/api/still/tile?${query}&level=0&x=2&y=1`)
    expect(tile.headers['content-type']).toBe('image/png')
    const { data, info } = await pixels(tile.bytes)
    expect([info.width, info.height]).toEqual([256, 208])
    for (const [x, y] of [
      [0, 0],
      [255, 207],
      [100, 30],
    ] as const) {
      const from = ((512 + y) * 1280 + 1024 + x) * 3
      expect([...data.subarray((y * 256 + x) * 3, (y * 256 + x) * 3 + 3)]).toEqual([
        ...whole.data.subarray(from, from + 3),
      ])
    }
    const half = await pixels((await get(`/api/still/tile?${query}&level=2&x=0&y=0`)).bytes)
    expect([half.info.width, half.info.height]).toEqual([320, 180])
    for (const [level, x, y] of [
      [0, 3, 0],
      [0, 0, 2],
      [2, 1, 0],
      [9, 4, 4],
    ])
      expect((await get(`/api/still/tile?${query}&level=${level}&x=${x}&y=${y}`)).status).toBe(404)
    for (const bad of ['level=-1&x=0&y=0', 'level=0&x=1e2&y=0', 'level=17&x=0&y=0', 'level=0&x=0'])
      expect((await get(`/api/still/tile?${query}&${bad}`)).status).toBe(400)
    const thumb = await pixels((await get(`/api/still/thumb?${query}&size=200`)).bytes)
    expect([thumb.info.width, thumb.info.height]).toEqual([200, 113])
  })

  it('shows a still as it is displayed, turned by its EXIF, in every level', async () => {
    const dir = await smallWalk()
    const corner = Buffer.alloc(600 * 400 * 3, 40)
    for (let y = 0; y < 50; y++) corner.fill(250, y * 1800, y * 1800 + 150)
    const turned = sharp(corner, { raw: { width: 600, height: 400, channels: 3 } })
      .jpeg()
      .withMetadata({ orientation: 6 })
    await put(dir, 'stills/day/20m.jpg', await turned.toBuffer())
    const { still, get } = await serveWalk(dir)
    const one = await still('stills/day/20m.jpg')
    expect([one.head!.width, one.head!.height]).toEqual([400, 600])
    for (const level of [0, 1, 3]) {
      const { data, info } = await pixels(
        (await get(`/api/still/tile?${queryOf(one)}&level=${level}&x=0&y=0`)).bytes,
      )
      const side = 2 ** level
      expect(info.width).toBe(400 / side)
      const at = (x: number, y: number) =>
        data[(Math.floor(y / side) * info.width + Math.floor(x / side)) * 3]!
      // the bright corner, top left as stored, is displayed top right
      expect(at(380, 20)).toBeGreaterThan(200)
      expect(at(20, 20)).toBeLessThan(90)
    }
  })

  it('shows no pixels of a still that is not the one asked for', async () => {
    const { still, get } = await serveWalk()
    const one = await still(FILE)
    expect(
      (await get(`/api/still/tile?file=${encodeURIComponent(FILE)}&stamp=1-1&level=0&x=0&y=0`)).status,
    ).toBe(404)
    expect((await get(`/api/still/thumb?${queryOf(one)}`)).status).toBe(200)
  })

  it('shows the reference straight on', async () => {
    const { still, get } = await serveWalk()
    const points = boardCorners(4).flat().join(',')
    const query = `${queryOf(await still(FILE))}&reference=board&points=${points}`
    const { data, info } = await pixels((await get(`/api/still/rectified?${query}`)).bytes)
    expectNear(info.width / info.height, 1.5, { abs: 0.01 })
    const middle = data[(Math.floor(info.height / 2) * info.width + Math.floor(info.width / 2)) * 3]!
    expect(middle).toBeGreaterThan(180)
    const ground = data.filter((_, i) => i % 3 === 0 && data[i]! < 120).length
    expect(ground / (info.width * info.height)).toBeLessThan(0.02)
  })
})

describe('measuring on the page', () => {
  it('measures a pick as the command does, to the last digit, and saves nothing', async () => {
    const { dir, still, post } = await serveWalk()
    const before = await readFile(join(dir, 'picks.json'), 'utf8')
    const [pick] = (await still(FILE)).picks
    const { reference, corners, method, sigma } = pick!
    const answer = (await post('/api/measure', { file: FILE, pick: { reference, corners, method, sigma } }))
      .json as MeasureAnswer
    if (!answer.ok) throw new Error(answer.message)
    const walk = await readWalk(dir)
    const { stills } = await measureWalk(walk, { workers: 1 })
    const command = stills.find(({ file }) => file === FILE)!
    // pose and facing need the lens of the whole walk
    const { density, ...rest } = command
    expect(answer.entry).toMatchObject({ ...rest, pose: null })
    expect(answer.entry.density.onTarget).toBe(density.onTarget)
    expect(await readFile(join(dir, 'picks.json'), 'utf8')).toBe(before)
    const outside = {
      reference,
      corners: [
        [-5, 0],
        [10, 0],
        [10, 10],
        [0, 10],
      ],
      method: 'hand',
    }
    expect((await post('/api/measure', { file: FILE, pick: outside })).json).toMatchObject({
      ok: false,
      code: 'corners-outside',
    })
  })

  it('snaps clicked corners to the board, and says so where there is nothing to snap to', async () => {
    const { post } = await serveWalk()
    const corners = boardCorners(4).map(([x, y], i) => [
      x + [1, -1, 0.5, -0.8][i]!,
      y + [0.6, 1, -1, 0.4][i]!,
    ])
    const answer = (
      await post('/api/snap', {
        file: FILE,
        reference: 'board',
        corners,
        placed: [true, true, true, true],
        clickSigma: 1,
      })
    ).json as SnapAnswer
    if (!answer.ok) throw new Error(answer.message)
    expect(answer.pick).toMatchObject({ reference: 'board', method: 'snapped', sigma: answer.sigmaPx })
    expect(answer.pick.covariance).toHaveLength(8)
    answer.pick.corners
      .flat()
      .forEach((value, i) =>
        expectNear(
          value,
          boardCorners(4).flat()[i]!,
          { abs: 0.2 },
          'its blur was made after encoding, which is no camera but near one',
        ),
      )
    const nowhere = [
      [40, 40],
      [140, 40],
      [140, 110],
      [40, 110],
    ]
    const refused = (
      await post('/api/snap', {
        file: FILE,
        reference: 'board',
        corners: nowhere,
        placed: [true, true, true, true],
        clickSigma: 1,
      })
    ).json as SnapAnswer
    expect(refused).toMatchObject({ ok: false, code: 'snap-no-edge' })
  })

  it('judges the walk as it is picked, and writes the same results.json and sheet as the commands', async () => {
    const { dir, get, post } = await serveWalk()
    const results = async () => (await get('/api/results')).json as ResultsView
    for (let tries = 0; (await results()).done < 3 && tries < 100; tries++)
      await new Promise((resolve) => setTimeout(resolve, 100))
    const live = await results()
    expect([live.done, live.all, live.written]).toEqual([3, 3, false])
    const expected = await measureWalk(await readWalk(dir), { workers: 1 })
    expect(live.results).toEqual(JSON.parse(resultsText(expected)))
    expect((await post('/api/measure-all', {})).status).toBe(202)
    for (let tries = 0; !(await results()).written && tries < 100; tries++)
      await new Promise((resolve) => setTimeout(resolve, 100))
    expect(await readFile(join(dir, 'results.json'), 'utf8')).toBe(resultsText(expected))
    expect((await get('/api/sheet')).status).toBe(404)
    expect((await post('/api/sheet', { paper: 'A4', maskPlates: false })).json).toEqual({ file: 'sheet.pdf' })
    const sheet = await get('/api/sheet')
    expect([sheet.headers['content-type'], sheet.bytes.toString('latin1', 0, 5)]).toEqual([
      'application/pdf',
      '%PDF-',
    ])
  })
})
