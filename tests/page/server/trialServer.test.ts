import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { startTrialServer } from '../../../src/page/server/startTrialServer.js'
import type { TrialView } from '../../../src/page/trialApi.js'
import type { TrialSource } from '../../../src/walk/trial/trialSource.js'
import type { GivenAnswer } from '../../../src/walk/schemas/readingsSchema.js'
import { ask, enterWith, temporaryFolder, type Answer } from '../servedWalk.js'

const CROPS = ['one', 'two', 'three']

async function serveTrial() {
  const answers: GivenAnswer[] = []
  const source: TrialSource = {
    seed: 4,
    crops: new Map(CROPS.map((id) => [id, { letters: 7, png: Buffer.from(`picture ${id}`) }])),
    answers: () => answers.filter(({ practice }) => !practice),
    keep: (answer) => Promise.resolve(void answers.push(answer)),
  }
  const filesDir = await temporaryFolder()
  for (const name of [
    'index.html',
    'read.html',
    'page.js',
    'trial.js',
    'trialStyle.css',
    'regular.ttf',
    'semibold.ttf',
  ])
    await writeFile(join(filesDir, name), name)
  const server = await startTrialServer(source, { filesDir })
  onTestFinished(() => server.close())
  const { json } = await enterWith(server.port, new URL(server.address).hash.slice(1))
  const headers = {
    'X-Session': (json as { session: string }).session,
    Origin: `http://127.0.0.1:${server.port}`,
    'Content-Type': 'application/json',
  }
  const post = (path: string, body: unknown): Promise<Answer> =>
    ask(server.port, path, { method: 'POST', headers, body: JSON.stringify(body) })
  return {
    answers,
    post,
    get: (path: string) => ask(server.port, path, { headers }),
    port: server.port,
    next: async (reader: string) => (await post('/api/trial/next', { reader })).json as TrialView,
    read: (showing: string | null, answered: string | null = 'ACEFHJK') =>
      post('/api/trial/answer', { showing, answered, seconds: 2, zoom: 4, brightness: 1 }),
  }
}

test('shows practice first, then every crop once to each reader, and takes up where a reader stopped', async () => {
  const trial = await serveTrial()
  const shown: string[] = []
  for (let turn = 0; turn < 6; turn += 1) {
    const view = await trial.next('Anna')
    expect(view.practice).toBe(turn < 3)
    expect([view.done, view.all]).toEqual([Math.max(0, turn - 3), 3])
    shown.push((await trial.get(`/api/trial/crop?showing=${view.showing}`)).bytes.toString())
    const answered = await trial.read(view.showing)
    expect(answered.json).toEqual({ said: turn < 3 ? expect.stringMatching(/^[A-Z0-9]{7}$/) : null })
    if (turn === 4) expect((await trial.next('Anna')).done).toBe(2)
  }
  expect(shown.slice(3).sort()).toEqual(CROPS.map((id) => `picture ${id}`).sort())
  expect((await trial.next('Anna')).showing).toBeNull()
  expect((await trial.next('Ben')).practice).toBe(true)
})

test('takes one answer to a showing, from whichever of two windows comes first', async () => {
  const trial = await serveTrial()
  for (let turn = 0; turn < 3; turn += 1) await trial.read((await trial.next('Anna')).showing)
  const [one, other] = [await trial.next('Anna'), await trial.next('Anna')]
  expect(one.showing).not.toBe(other.showing)
  const both = await Promise.all([trial.read(one.showing), trial.read(other.showing, 'LLLLLLL')])
  expect(both.map(({ status }) => status).sort()).toEqual([200, 422])
  expect(both.find(({ status }) => status === 422)!.json).toMatchObject({ code: 'showing-over' })
  expect(trial.answers.filter(({ practice }) => !practice)).toHaveLength(1)
  expect((await trial.read(one.showing)).status).toBe(422)
})

test('keeps "cannot tell", and refuses an answer of another length', async () => {
  const trial = await serveTrial()
  const { showing } = await trial.next('Anna')
  expect((await trial.read(showing, 'ACE')).json).toMatchObject({ code: 'answer-length' })
  expect((await trial.read(showing, null)).status).toBe(200)
  expect(trial.answers).toMatchObject([
    { reader: 'Anna', answered: null, practice: true, zoom: 4, brightness: 1 },
  ])
})

test('serves nothing of the walk, and nothing without the session', async () => {
  const trial = await serveTrial()
  for (const path of ['/api/walk', '/api/results', '/api/sheet', '/index.html', '/page.js', '/read.html'])
    expect((await trial.get(path)).status).toBe(404)
  expect((await trial.get('/')).bytes.toString()).toBe('read.html')
  const { showing } = await trial.next('Anna')
  expect((await ask(trial.port, `/api/trial/crop?showing=${showing}`)).status).toBe(401)
  expect((await ask(trial.port, '/', { headers: { Host: 'example.org' } })).status).toBe(403)
  expect((await trial.get('/api/trial/crop?showing=one')).status).toBe(404)
  for (const body of [{ reader: '' }, { reader: 'a\nb' }, { reader: 'Anna', crop: 'one' }, {}])
    expect((await trial.post('/api/trial/next', body)).status).toBe(400)
})
