import { mkdir, readdir, readFile, rm, symlink, unlink, writeFile } from 'node:fs/promises'
import { connect } from 'node:net'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { MOST_DROPPED_BYTES } from '../../../src/page/api.js'
import { LARGEST_FILE_BYTES } from '../../../src/still/stillFault.js'
import { takeInStill } from '../../../src/walk/stills/takeInStill.js'
import { boardCorners, boardStill } from '../../journeys/smallWalk.js'
import { type Answer, ask, serveWalk, type ServedWalk, temporaryFolder } from '../servedWalk.js'

const still = await boardStill(5, 'jpeg', 11)
const other = await boardStill(5, 'jpeg', 12)

function drop(
  { server, own }: ServedWalk,
  name: string,
  body: Buffer,
  headers: Record<string, string> = {},
): Promise<Answer> {
  return ask(server.port, `/api/drop?${new URLSearchParams({ name }).toString()}`, {
    method: 'POST',
    headers: { ...own, 'Content-Type': 'application/octet-stream', ...headers },
    body,
  })
}

/** All that lies below a walk's folder, but for its cache, whose begun files count. */
async function filesOf({ dir }: ServedWalk): Promise<string[]> {
  const all = await readdir(dir, { recursive: true })
  return all.filter((name) => !name.startsWith('.proofwalk') || /\.still\.\w+\.part$/.test(name)).sort()
}

/** The head of a request that drops a still of so many bytes. */
function dropHead({ server, own }: ServedWalk, bytes: number): string {
  const lines = [
    'POST /api/drop?name=16m-day.jpg HTTP/1.1',
    `Host: 127.0.0.1:${server.port}`,
    ...Object.entries(own).map(([name, value]) => `${name}: ${value}`),
    'Content-Type: application/octet-stream',
    `Content-Length: ${bytes}`,
  ]
  return `${lines.join('\r\n')}\r\n\r\n`
}

describe('a still that is dropped', () => {
  it('is copied whole to where its name tells, waits in stills/ else, and is news to nobody', async () => {
    const served = await serveWalk()
    const told = await served.events()
    expect((await drop(served, '16m-day.jpg', still)).json).toEqual({ file: 'stills/day/16m-day.jpg' })
    expect((await drop(served, 'export 1.jpg', other)).json).toEqual({ file: 'stills/export 1.jpg' })
    expect(await readFile(join(served.dir, 'stills/day/16m-day.jpg'))).toEqual(still)
    const walk = await served.walk()
    expect(walk.dropped).toEqual(['stills/day/16m-day.jpg', 'stills/export 1.jpg'])
    const byFile = new Map(walk.stills.map((one) => [one.file, one]))
    expect(byFile.get('stills/day/16m-day.jpg')).toMatchObject({ state: 'assigned', light: 'day' })
    expect(byFile.get('stills/day/16m-day.jpg')?.mark?.distanceM).toBe(16)
    expect(byFile.get('stills/export 1.jpg')?.state).toBe('unassigned')
    const walks = () => told.filter((event) => event.kind === 'walk')
    await expect.poll(() => walks().length, { timeout: 10_000 }).toBeGreaterThan(0)
    expect(new Set(walks().map(({ message }) => message))).toEqual(new Set([null]))
  })

  it('never takes the place of another: the next free name, whatever the case of its letters, and once where the bytes are the same', async () => {
    const served = await serveWalk()
    const before = await readFile(join(served.dir, 'stills/day/4m.jpg'))
    await writeFile(join(served.dir, 'stills/CAF\u00c9.jpg'), other)
    const third = await boardStill(5, 'jpeg', 13)
    expect((await drop(served, 'cafe\u0301.JPG', still)).json).toEqual({ file: 'stills/caf\u00e9-2.JPG' })
    expect((await drop(served, 'again.jpg', still)).json).toEqual({
      code: 'already-in-walk',
      message: 'is in the walk already: stills/caf\u00e9-2.JPG holds the same bytes',
      file: 'again.jpg',
    })
    const both = await Promise.all([
      drop(served, '4M day.jpg', third),
      drop(served, '4m day.jpg', await boardStill(5, 'jpeg', 14)),
    ])
    expect(both.map(({ json }) => (json as { file: string }).file.toLowerCase()).sort()).toEqual([
      'stills/day/4m day-2.jpg',
      'stills/day/4m day.jpg',
    ])
    expect(await readFile(join(served.dir, 'stills/day/4m.jpg'))).toEqual(before)
  })

  it('and assigned at once is news of nobody else', async () => {
    const served = await serveWalk()
    const told = await served.events()
    const { file } = (await drop(served, 'export 1.jpg', other)).json as { file: string }
    await served.still(file)
    const change = { file, mark: '5 m', light: 'day', reference: null, was: null }
    expect((await served.post('/api/assign', { changes: [change] })).status).toBe(200)
    const { entry } = await served.still(file)
    const back = { file, mark: null, light: null, reference: null, was: entry!.version }
    expect((await served.post('/api/assign', { changes: [back] })).status).toBe(200)
    expect(await served.post('/api/take-back', { files: [file] })).toMatchObject({ json: { refused: [] } })
    await served.walk()
    const words = told.flatMap((event) => (event.kind === 'walk' ? [event.message] : []))
    expect(words.filter((message) => message !== null)).toEqual([])
  })

  const ELF = Buffer.concat([Buffer.from('\x7fELF\x02\x01\x01', 'latin1'), Buffer.alloc(2000)])
  const CLIP = Buffer.concat([
    Buffer.from('\0\0\0\x18ftypisom\0\0\0\0isommp42', 'latin1'),
    Buffer.alloc(2000),
  ])
  const HEIC = Buffer.concat([
    Buffer.from('\0\0\0\x18ftypheic\0\0\0\0heicmif1', 'latin1'),
    Buffer.alloc(2000),
  ])
  it.each([
    ['an executable', '16m-day.jpg', ELF, /not a picture, whatever its name says/],
    ['a small script', '16m-day.jpg', Buffer.from('#!/bin/sh\necho\n'), /not a picture/],
    ['a page', '16m-day.png', Buffer.from('<!doctype html><script>1</script>'.repeat(40)), /not a picture/],
    ['a video', '16m-day.jpg', CLIP, /it is a video; export a still/],
    ['a video by its name', 'clip 16m.MP4', still, /is a video; export a still .+ffmpeg -i "clip 16m.MP4"/],
    ['a HEIC', '16m-day.jpg', HEIC, /HEIC/],
    ['an ending that is no picture', 'still.exe', still, /ends in \.exe, which is not a picture/],
    ['no ending', 'still', still, /has no ending/],
    ['nothing', '16m-day.jpg', Buffer.alloc(0), /the file is empty/],
    ['half a still', '16m-day.jpg', still.subarray(0, still.length >> 1), /cut short/],
    ['a large clip', '16m-day.jpg', Buffer.concat([CLIP, Buffer.alloc(30_000_000)]), /it is a video/],
  ])('%s is refused with a sentence, and nothing is left', async (_what, name, body, why) => {
    const served = await serveWalk()
    const before = await filesOf(served)
    const answer = await drop(served, name, body)
    expect(answer.status).toBe(422)
    expect((answer.json as { message: string }).message).toMatch(why)
    expect(await filesOf(served)).toEqual(before)
  })

  it('of 2 GB is refused before it is read, and where its size is not told once it is too much', async () => {
    expect(MOST_DROPPED_BYTES).toBe(LARGEST_FILE_BYTES)
    const served = await serveWalk()
    const before = await filesOf(served)
    const told = await new Promise<string>((resolve) => {
      let text = ''
      const socket = connect({ host: '127.0.0.1', port: served.server.port })
      socket.on('data', (part) => (text += part.toString()))
      socket.on('close', () => resolve(text))
      socket.write(dropHead(served, 2_000_000_000))
    })
    expect(told).toMatch(/^HTTP\/1\.1 413 /)
    expect(told).toContain('has 2000 MB, at most 1000 MB are taken; export a single still')
    const endless = [still, Buffer.alloc(LARGEST_FILE_BYTES)]
    const walk = { dir: served.dir, lights: ['day'] }
    const taken = await takeInStill(
      walk,
      '16m-day.jpg',
      (async function* () {
        yield* endless
      })(),
    )
    expect(taken).toMatchObject({ ok: false, code: 'still-too-large' })
    expect(await filesOf(served)).toEqual(before)
  })

  it('that breaks off leaves nothing', async () => {
    const served = await serveWalk()
    const before = await filesOf(served)
    const socket = connect({ host: '127.0.0.1', port: served.server.port })
    socket.on('error', () => undefined)
    socket.write(dropHead(served, still.length))
    socket.write(still.subarray(0, still.length - 100))
    const begun = async (): Promise<boolean> => (await filesOf(served)).some((name) => name.endsWith('.part'))
    await expect.poll(begun, { timeout: 10_000 }).toBe(true)
    socket.destroy()
    await expect.poll(begun, { timeout: 10_000 }).toBe(false)
    expect(await filesOf(served)).toEqual(before)
  })

  it.each([
    ['../../../../tmp/16m-day.jpg', 'stills/day/16m-day.jpg'],
    ['..\\..\\16m-day.jpg', 'stills/day/16m-day.jpg'],
    ['/etc/cron.d/16m-day.jpg', 'stills/day/16m-day.jpg'],
    ['16m-day\u202egpj.exe.jpg', 'stills/16m-daygpj.exe.jpg'],
    ['16m-day\u0000\r\nX-A: b.jpg', 'stills/day/16m-day X-A- b.jpg'],
    ['AUX.jpg', 'stills/_AUX.jpg'],
    ['.walk.yaml.jpg', 'stills/walk.yaml.jpg'],
    [`16m-day ${'x'.repeat(900)}.jpg`, `stills/day/16m-day ${'x'.repeat(188)}.jpg`],
  ])('%j lands in %s and nowhere else', async (name, file) => {
    const served = await serveWalk()
    const before = await filesOf(served)
    const { json } = await drop(served, name, still)
    expect(json).toEqual({ file })
    expect((await filesOf(served)).filter((one) => !before.includes(one))).toEqual([file])
    expect(await readFile(join(served.dir, file))).toEqual(still)
  })

  it.each(['stills', 'stills/day', '.proofwalk'])('never leaves the walk by a link at %s', async (link) => {
    const served = await serveWalk()
    const outside = await temporaryFolder()
    await rm(join(served.dir, link), { recursive: true, force: true })
    await symlink(outside, join(served.dir, link))
    const answer = await drop(served, '16m-day.jpg', still)
    expect(answer.status).toBe(422)
    expect((answer.json as { message: string }).message).toContain("is a link out of the walk's folder")
    expect(await readdir(outside)).toEqual([])
  })

  it('comes from the page alone, under a name, as bytes', async () => {
    const served = await serveWalk()
    const before = await filesOf(served)
    const { port } = served.server
    const path = '/api/drop?name=16m-day.jpg'
    const bytes = { 'Content-Type': 'application/octet-stream' }
    const Origin = `http://127.0.0.1:${port}`
    const status = async (method: string, at: string, headers: Record<string, string>): Promise<number> =>
      (await ask(port, at, { method, headers, ...(method === 'POST' ? { body: still } : {}) })).status
    expect(await status('POST', path, { ...bytes, Origin })).toBe(401)
    expect(await status('POST', path, { ...bytes, Origin, 'X-Session': 'a'.repeat(43) })).toBe(401)
    expect(await status('POST', path, { ...bytes, 'X-Session': served.own['X-Session']! })).toBe(403)
    expect(await status('POST', path, { ...bytes, ...served.own, Origin: 'http://example.test' })).toBe(403)
    expect(await status('POST', path, { ...bytes, ...served.own, Host: `localhost:${port}` })).toBe(403)
    expect(await status('GET', path, served.own)).toBe(404)
    expect(await status('PUT', path, { ...bytes, ...served.own })).toBe(404)
    expect(await status('POST', path, { ...served.own, 'Content-Type': 'multipart/form-data' })).toBe(400)
    expect(await status('POST', path, { ...served.own, 'Content-Type': 'application/json' })).toBe(400)
    expect(await status('POST', '/api/drop', { ...bytes, ...served.own })).toBe(400)
    expect(await status('POST', `/api/drop?name=${'x'.repeat(5000)}`, { ...bytes, ...served.own })).toBe(400)
    expect(await filesOf(served)).toEqual(before)
  })
})

describe('what was dropped is taken back', () => {
  const takeBack = async (served: ServedWalk, ...files: string[]) =>
    (
      (await served.post('/api/take-back', { files })).json as { refused: { file: string; code: string }[] }
    ).refused.map(({ file, code }) => [file, code])

  it('as long as it is the same file and nothing was done with it, and nothing else is', async () => {
    const served = await serveWalk()
    const before = await filesOf(served)
    const [one, two, three] = ['stills/day/5m day.jpg', 'stills/two.jpg', 'stills/three.jpg'] as const
    await drop(served, '5m day.jpg', still)
    await drop(served, 'two.jpg', other)
    await drop(served, 'three.jpg', await boardStill(5, 'jpeg', 15))
    await writeFile(join(served.dir, two), still.subarray(1))
    const { head } = await served.still(one)
    const pick = { reference: null, corners: boardCorners(5), method: 'hand' }
    expect(
      (await served.post('/api/pick', { file: one, was: null, sha256: head!.sha256, pick })).status,
    ).toBe(200)
    expect(await takeBack(served, one, two, three, 'stills/day/4m.jpg', '../walk.yaml')).toEqual([
      [one, 'in-use'],
      [two, 'changed-since-taken'],
      ['stills/day/4m.jpg', 'not-dropped-here'],
      ['../walk.yaml', 'not-dropped-here'],
    ])
    expect((await filesOf(served)).filter((file) => !before.includes(file))).toEqual([one, two])
    expect((await served.walk()).stills.map(({ file }) => file)).not.toContain(three)
    await unlink(join(served.dir, two))
    expect(await takeBack(served, two)).toEqual([[two, 'changed-since-taken']])
    await mkdir(join(served.dir, two))
    expect(await takeBack(served, two)).toEqual([[two, 'changed-since-taken']])
  })

  it('not by another start of the server', async () => {
    const first = await serveWalk()
    await drop(first, 'one.jpg', still)
    const second = await serveWalk(first.dir)
    expect((await second.walk()).dropped).toEqual([])
    expect(await takeBack(second, 'stills/one.jpg')).toEqual([['stills/one.jpg', 'not-dropped-here']])
  })
})
