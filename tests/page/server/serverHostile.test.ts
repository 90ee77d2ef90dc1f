import { readFile } from 'node:fs/promises'
import { connect } from 'node:net'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { serveWalk, type ServedWalk } from '../servedWalk.js'

/** Sends bytes as they are and returns all that comes back until the connection ends; `within` ms at most, then null. */
function send(port: number, bytes: string | Buffer, within = 3000): Promise<string | null> {
  return new Promise((resolve) => {
    const socket = connect({ host: '127.0.0.1', port })
    let text = ''
    const timer = setTimeout(() => {
      socket.destroy()
      resolve(null)
    }, within)
    const end = (): void => {
      clearTimeout(timer)
      resolve(text)
    }
    socket.on('data', (part) => (text += part.toString('latin1')))
    socket.on('close', end)
    socket.on('error', end)
    socket.write(bytes)
  })
}

const METHODS = ['GET', 'POST', 'PUT', 'DELETE', 'PATCH', 'OPTIONS', 'HEAD', 'TRACE', 'CONNECT'] as const
const PATHS = [
  '/',
  '/api/walk',
  '/api/pick',
  '/api/quit',
  '/api/sheet',
  '/api/events',
  '/api//walk',
  '/api/walk/',
  '/API/WALK',
  '/api/walk%00',
  '/api/%77alk',
  '/../walk.yaml',
  '/%2e%2e/walk.yaml',
  '//127.0.0.1/api/walk',
  'http://127.0.0.1/api/walk',
  'http://example.test/api/walk',
  '*',
  '/api/walk?x=1#y',
  `/${'a'.repeat(9000)}`,
] as const

/** Heads that no honest page sends; `H` stands for the server's own host. */
const HEADS: readonly (readonly [string, string])[] = [
  ['no Host', 'GET /api/walk HTTP/1.1\r\n\r\n'],
  ['two Hosts', 'GET /api/walk HTTP/1.1\r\nHost: H\r\nHost: example.test\r\n\r\n'],
  ['a Host with a user', 'GET /api/walk HTTP/1.1\r\nHost: a@H\r\n\r\n'],
  ['an old version', 'GET /api/walk HTTP/1.0\r\nHost: H\r\n\r\n'],
  ['a version of the future', 'GET /api/walk HTTP/9.9\r\nHost: H\r\n\r\n'],
  ['no version', 'GET /api/walk\r\n\r\n'],
  ['another protocol', '\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03'],
  ['a preface of another version', 'PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n'],
  ['a folded header', 'GET /api/walk HTTP/1.1\r\nHost: H\r\nX-Session: a\r\n b\r\n\r\n'],
  ['a blank in a name', 'GET /api/walk HTTP/1.1\r\nHost : H\r\n\r\n'],
  ['a zero byte', 'GET /api/walk HTTP/1.1\r\nHost: H\r\nX-Session: a\0b\r\n\r\n'],
  ['bare line ends', 'GET /api/walk HTTP/1.1\nHost: H\n\n'],
  ['two sessions', 'GET /api/walk HTTP/1.1\r\nHost: H\r\nX-Session: a\r\nX-Session: b\r\n\r\n'],
  ['a huge head', `GET /api/walk HTTP/1.1\r\nHost: H\r\nX-A: ${'a'.repeat(70_000)}\r\n\r\n`],
  ['many headers', `GET /api/walk HTTP/1.1\r\nHost: H\r\n${'X-A: a\r\n'.repeat(3000)}\r\n`],
  [
    'both lengths',
    'POST /api/pick HTTP/1.1\r\nHost: H\r\nOrigin: http://H\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n',
  ],
  [
    'two lengths',
    'POST /api/pick HTTP/1.1\r\nHost: H\r\nOrigin: http://H\r\nContent-Length: 4\r\nContent-Length: 5\r\n\r\n{}{}{',
  ],
  [
    'a negative length',
    'POST /api/pick HTTP/1.1\r\nHost: H\r\nOrigin: http://H\r\nContent-Length: -1\r\n\r\n',
  ],
  [
    'a chunk of no size',
    'POST /api/pick HTTP/1.1\r\nHost: H\r\nOrigin: http://H\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n',
  ],
  ['an upgrade', 'GET /api/events HTTP/1.1\r\nHost: H\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n\r\n'],
]

/** The statuses of all answers on a connection. */
const statuses = (text: string): number[] =>
  [...text.matchAll(/^HTTP\/1\.1 (\d{3})/gm)].map(([, code]) => Number(code))

describe('requests that no page sends', () => {
  it('answers every method on every path without the session with a refusal, and with the page alone', async () => {
    const { dir, server, get } = await serveWalk()
    const written = () =>
      Promise.all(['walk.yaml', 'picks.json'].map((file) => readFile(join(dir, file), 'utf8')))
    const before = await written()
    let asked = 0
    for (const method of METHODS)
      for (const path of PATHS) {
        const head = `${method} ${path} HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nConnection: close\r\n\r\n`
        const answer = await send(server.port, head)
        asked += 1
        const isPage = method === 'GET' && path === '/'
        for (const status of statuses(answer ?? ''))
          expect(status, `${method} ${path.slice(0, 40)}`).toSatisfy((one: number) =>
            isPage ? one === 200 : one >= 400,
          )
        expect(answer, `${method} ${path.slice(0, 40)}: no answer, no end`).not.toBeNull()
        expect(answer).not.toContain('Net loft')
      }
    console.log(`${asked} raw requests without the session: none let in`)
    expect(await written()).toEqual(before)
    expect((await get('/api/walk')).status).toBe(200)
  }, 60_000)

  it.each(HEADS)('answers %s with a refusal, and goes on serving', async (_, head) => {
    const page = await serveWalk()
    const answer = await send(
      page.server.port,
      head.replaceAll('H\r\n', `127.0.0.1:${page.server.port}\r\n`),
      8000,
    )
    expect(answer).not.toBeNull()
    for (const status of statuses(answer!)) expect(status).toBeGreaterThanOrEqual(400)
    expect((await page.get('/api/walk')).status).toBe(200)
  })

  it('does not take what hides in the body of a refused request for one of its own', async () => {
    const page = await serveWalk()
    const own = headerText(page)
    const hidden = `POST /api/quit HTTP/1.1\r\n${own}Content-Type: application/json\r\nContent-Length: 2\r\n\r\n{}`
    const outer = `POST /api/pick HTTP/1.1\r\nHost: 127.0.0.1:${page.server.port}\r\nContent-Length: ${hidden.length}\r\n\r\n${hidden}`
    expect(statuses((await send(page.server.port, outer)) ?? '')).toEqual([403])
    expect((await page.get('/api/walk')).status).toBe(200)
  })

  it('ends half-sent heads in time, however many, and serves the page all the while', async () => {
    const page = await serveWalk()
    const begun = performance.now()
    const half = Array.from({ length: 150 }, (_, i) =>
      send(page.server.port, i % 2 === 0 ? 'GET /api/walk HTTP/1.1\r\nHost: ' : '', 15_000),
    )
    expect((await page.get('/api/walk')).status).toBe(200)
    const answers = await Promise.all(half)
    expect(answers.filter((one) => one === null)).toHaveLength(0)
    expect(performance.now() - begun).toBeLessThan(12_000)
  }, 30_000)

  it('turns connections away beyond what pages need, and serves again once they are gone', async () => {
    const page = await serveWalk()
    const many = Array.from({ length: 400 }, () => connect({ host: '127.0.0.1', port: page.server.port }))
    let away = 0
    for (const socket of many) socket.on('error', () => undefined).on('close', () => (away += 1))
    await expect.poll(() => away, { timeout: 4000 }).toBeGreaterThanOrEqual(200)
    for (const socket of many) socket.destroy()
    await expect.poll(async () => (await page.get('/api/walk').catch(() => null))?.status).toBe(200)
  })
})

function headerText({ own, server }: ServedWalk): string {
  const all = { Host: `127.0.0.1:${server.port}`, ...own }
  return Object.entries(all)
    .map(([name, value]) => `${name}: ${value}\r\n`)
    .join('')
}
