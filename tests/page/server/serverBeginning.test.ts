import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import type { BeginRequest, BeginView } from '../../../src/page/beginApi.js'
import { startPageServer } from '../../../src/page/server/startPageServer.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { runCommand } from '../../cli/recordingTerminal.js'
import { type Answer, ask, enterWith, smallWalk, temporaryFolder } from '../servedWalk.js'

const ANSWERS: BeginRequest = {
  folder: 'Net loft',
  site: 'Net loft',
  client: 'Harbour office, east',
  camera: 'Loft camera',
  feet: false,
  carry: ['plate-eu', '600x400mm'],
  measuredWith: 'laser',
  grading: 'iec-62676-4-2025',
  marks: '4 m, 8 m',
  lights: 'day, lamp',
  promise: ['read a plate at 12 m in lamp'],
}

/** A server on a folder that is no walk, and what its page may do. */
async function unbegun(dir: string, begin: string | null) {
  const filesDir = await temporaryFolder()
  await writeFile(join(filesDir, 'index.html'), '<!doctype html>')
  const server = await startPageServer({ dir, begin, filesDir })
  onTestFinished(() => server.close())
  const { json } = await enterWith(server.port, new URL(server.address).hash.slice(1))
  const own = {
    'X-Session': (json as { session: string }).session,
    Origin: `http://127.0.0.1:${server.port}`,
  }
  const post = (path: string, body: unknown): Promise<Answer> => {
    const headers = { ...own, 'Content-Type': 'application/json' }
    return ask(server.port, path, { method: 'POST', headers, body: JSON.stringify(body) })
  }
  return { server, post, get: (path: string) => ask(server.port, path, { headers: own }) }
}

test('a walk is begun in a folder of its own, the same as proofwalk new makes it, and served from then on', async () => {
  const dir = await temporaryFolder()
  const { server, get, post } = await unbegun(dir, 'walk-2026-03-14')
  const asked = (await get('/api/begin')).json as BeginView
  expect([asked.within, asked.folder]).toEqual([dir, 'walk-2026-03-14'])
  expect(asked.carried.map(({ value }) => value)).toEqual(['plate', 'board', 'both', 'chart', 'staff'])
  expect(asked.plates.map(({ value }) => value)).toContain('plate-eu')
  expect(asked.editions.map(({ value }) => value)).toContain(ANSWERS.grading)
  expect(asked.tasks[ANSWERS.grading]!.metres[0]!.hint).toContain('IEC 62676-4:2025')
  for (const path of ['/api/walk', '/api/results', '/api/still/thumb?file=a', '/api/sheet', '/api/unsaved'])
    expect([path, (await get(path)).status]).toEqual([path, 404])
  for (const path of ['/api/pick', '/api/assign', '/api/take-back', '/api/drop?name=16m.jpg'])
    expect([path, (await post(path, {})).json]).toEqual([
      path,
      expect.objectContaining({ code: 'no-walk-yet' }),
    ])
  expect(server.walkDir()).toBeNull()

  expect((await post('/api/begin', ANSWERS)).json).toEqual({})
  expect(server.walkDir()).toBe(join(dir, 'Net loft'))
  expect((await get('/api/walk')).json).toMatchObject({
    site: 'Net loft',
    lights: ['day', 'lamp'],
    stills: [],
  })
  expect((await get('/api/begin')).json).toBeNull()
  expect((await post('/api/begin', ANSWERS)).status).toBe(404)
  expect(await readdir(dir)).toEqual(['Net loft'])

  const other = join(dir, 'other')
  const carry = ANSWERS.carry.flatMap((one) => ['--carry', one])
  const rest = ['--site', ANSWERS.site, '--client', ANSWERS.client, '--camera', ANSWERS.camera]
  const more = [
    '--grading',
    ANSWERS.grading,
    '--measured-with',
    'laser',
    '--marks',
    ANSWERS.marks,
    '--lights',
    ANSWERS.lights,
  ]
  await runCommand('new', other, ...carry, ...rest, ...more, '--promise', ANSWERS.promise[0]!)
  const text = await readFile(join(dir, 'Net loft/walk.yaml'), 'utf8')
  expect(text).toBe(await readFile(join(other, 'walk.yaml'), 'utf8'))
  expect((await readWalk(join(dir, 'Net loft'))).people.client).toBe('Harbour office, east')
})

test('faulty answers are told field by field, all at once, and nothing is made', async () => {
  const dir = await temporaryFolder()
  const { get, post } = await unbegun(dir, 'walk')
  const wrong = { folder: 'a/b', carry: ['600x400'], marks: '4 m, 5', promise: ['sing at 4 m in day'] }
  expect(
    ((await post('/api/begin', { ...ANSWERS, folder: '../elsewhere' })).json as { faults: unknown }).faults,
  ).toEqual([
    {
      field: 'folder',
      message: '"../elsewhere" is not a name of a folder; write a plain name, or give the camera a name',
    },
  ])
  const { json, status } = await post('/api/begin', { ...ANSWERS, ...wrong, folder: 'sound' })
  expect(status).toBe(422)
  const { faults } = json as { faults: { field: string; message: string }[] }
  expect(faults.map(({ field }) => field)).toEqual(['carry', 'promise', 'marks'])
  expect(faults[2]!.message).toContain('"5" has no unit')
  for (const folder of ['', '.', '..', '.hidden', 'a/b', 'a\\b', 'a\0b', null])
    expect([folder, (await post('/api/begin', { ...ANSWERS, folder })).status]).toEqual([folder, 422])
  expect((await post('/api/begin', { ...ANSWERS, extra: 1 })).status).toBe(400)
  await mkdir(join(dir, 'there'))
  await writeFile(join(dir, 'there/walk.yaml'), 'mine')
  const there = await post('/api/begin', { ...ANSWERS, folder: 'there' })
  expect([there.status, (there.json as { code: string }).code]).toEqual([422, 'already-there'])
  await writeFile(join(dir, 'file'), 'mine')
  expect((await post('/api/begin', { ...ANSWERS, folder: 'file' })).status).toBe(422)
  expect(await readdir(dir, { recursive: true })).toEqual(['file', 'there', 'there/walk.yaml'])
  expect(await readFile(join(dir, 'there/walk.yaml'), 'utf8')).toBe('mine')
  expect((await get('/api/walk')).status).toBe(404)
})

test('a folder that was named becomes the walk itself; a walk, a part of one, and no folder are never begun anew', async () => {
  const dir = await temporaryFolder()
  const { get, post } = await unbegun(dir, null)
  expect((await get('/api/begin')).json).toMatchObject({ within: dir, folder: null })
  expect((await post('/api/begin', { ...ANSWERS, folder: null, marks: '', lights: '' })).json).toEqual({})
  expect((await readWalk(dir)).marksM).toEqual([4, 6, 9, 12, 16, 20])
  const walk = await smallWalk()
  const served = await unbegun(walk, null)
  expect((await served.get('/api/begin')).json).toBeNull()
  await expect(unbegun(join(walk, 'stills/day'), null)).rejects.toThrow('has no walk.yaml')
  await expect(unbegun(join(walk, 'none'), null)).rejects.toThrow('is not there')
})
