import { cp, rename, symlink, writeFile } from 'node:fs/promises'
import { connect } from 'node:net'
import { networkInterfaces } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { ProofwalkError } from '../../../src/errors.js'
import { MOST_BODY_BYTES } from '../../../src/page/server/reply/readBody.js'
import { startPageServer } from '../../../src/page/server/startPageServer.js'
import { ask, enterWith, serveWalk, smallWalk, temporaryFolder } from '../servedWalk.js'

const JSON_TYPE = { 'Content-Type': 'application/json' }

describe('who is let in', () => {
  it('takes the token of the address once, for a session that no browser sends of itself', async () => {
    const dir = await smallWalk()
    const filesDir = await temporaryFolder()
    await writeFile(join(filesDir, 'index.html'), '<!doctype html>')
    const server = await startPageServer({ dir, filesDir })
    try {
      const token = new URL(server.address).hash.slice(1)
      for (const wrong of ['AAAA', '', `${token}x`, token.toLowerCase()])
        expect((await enterWith(server.port, wrong)).status, wrong).toBe(401)
      const entered = await enterWith(server.port, token)
      expect(entered.status).toBe(200)
      expect(entered.headers['set-cookie']).toBeUndefined()
      const { session } = entered.json as { session: string }
      expect(session).toMatch(/^[\w-]{43}$/)
      expect(session).not.toBe(token)
      expect((await enterWith(server.port, token)).status).toBe(401)
      const walk = (headers: Record<string, string>) => ask(server.port, '/api/walk', { headers })
      expect((await walk({ 'X-Session': session })).status).toBe(200)
      for (const headers of [
        { 'X-Session': `${session}x` },
        { 'X-Session': token },
        { Cookie: `X-Session=${session}` },
        { Cookie: `proofwalk-${server.port}=${session}` },
        { Authorization: `Bearer ${session}` },
      ])
        expect((await walk(headers)).status, JSON.stringify(headers)).toBe(401)
      expect((await ask(server.port, `/api/walk?session=${session}`)).status).toBe(401)
    } finally {
      await server.close()
    }
  })

  it('refuses every route without the session, and says how it is opened; the page itself knows nothing', async () => {
    const { server } = await serveWalk()
    expect((await ask(server.port, '/')).bytes.toString()).toBe('<!doctype html><title>page</title>')
    const routes = [
      '/api/walk',
      '/api/still/thumb',
      '/api/still/tile',
      '/api/results',
      '/api/events',
      '/api/sheet',
      '/nothing',
    ]
    for (const path of routes) {
      const answer = await ask(server.port, path)
      expect([path, answer.status]).toEqual([path, 401])
      expect(answer.bytes.toString()).toContain('the address that proofwalk pick printed')
    }
    for (const path of [
      '/api/pick',
      '/api/assign',
      '/api/measure',
      '/api/snap',
      '/api/measure-all',
      '/api/sheet',
      '/api/quit',
    ]) {
      const headers = { ...JSON_TYPE, Origin: `http://127.0.0.1:${server.port}` }
      expect((await ask(server.port, path, { method: 'POST', headers, body: '{}' })).status).toBe(401)
    }
  })

  it('lets what a file on this machine opens see the page, and another site nothing', async () => {
    const { server } = await serveWalk()
    const from = (path: string, mode: string, site = 'cross-site') =>
      ask(server.port, path, { headers: { 'Sec-Fetch-Site': site, 'Sec-Fetch-Mode': mode } })
    expect((await from('/', 'navigate')).status).toBe(200)
    for (const [path, mode] of [
      ['/', 'no-cors'],
      ['/', 'cors'],
      ['/page.js', 'navigate'],
      ['/page.js', 'no-cors'],
      ['/api/walk', 'navigate'],
      ['/?a', 'navigate'],
    ] as const)
      expect((await from(path, mode)).status, `${path} ${mode}`).toBe(403)
  })

  it('refuses a foreign Host, even with the session', async () => {
    const { server, own } = await serveWalk()
    for (const Host of [
      'example.test',
      `example.test:${server.port}`,
      `localhost:${server.port}`,
      '127.0.0.1',
      `127.0.0.1:${server.port + 1}`,
      `127.0.0.1.example.test:${server.port}`,
    ]) {
      expect((await ask(server.port, '/api/walk', { headers: { ...own, Host } })).status, Host).toBe(403)
    }
  })

  it('refuses a foreign Origin, a change that names none, and what another site has the browser ask', async () => {
    const { server, own, walk } = await serveWalk()
    const before = await walk()
    const { 'X-Session': session } = own as { 'X-Session': string }
    const post = (headers: Record<string, string>) =>
      ask(server.port, '/api/quit', { method: 'POST', headers: { ...JSON_TYPE, ...headers }, body: '{}' })
    for (const Origin of [
      'http://example.test',
      'null',
      `https://127.0.0.1:${server.port}`,
      `http://127.0.0.1:${server.port + 1}`,
      `http://localhost:${server.port}`,
    ]) {
      expect((await post({ 'X-Session': session, Origin })).status, Origin).toBe(403)
      expect(
        (await ask(server.port, '/api/walk', { headers: { 'X-Session': session, Origin } })).status,
      ).toBe(403)
    }
    expect((await post({ 'X-Session': session })).status).toBe(403)
    for (const site of ['cross-site', 'same-site'])
      expect(
        (await ask(server.port, '/api/walk', { headers: { 'X-Session': session, 'Sec-Fetch-Site': site } }))
          .status,
      ).toBe(403)
    expect((await walk()).stills).toHaveLength(before.stills.length)
  })

  it('grants no other site anything, asked beforehand or not', async () => {
    const { server, own, get } = await serveWalk()
    const asked = await ask(server.port, '/api/pick', {
      method: 'OPTIONS',
      headers: { Origin: 'http://example.test', 'Access-Control-Request-Method': 'POST' },
    })
    expect(asked.status).toBe(403)
    for (const { headers } of [
      asked,
      await get('/api/walk'),
      await ask(server.port, '/api/pick', { method: 'OPTIONS', headers: own }),
    ])
      expect(Object.keys(headers).filter((name) => name.startsWith('access-control'))).toEqual([])
  })

  it('listens to this machine alone', async () => {
    const { server } = await serveWalk()
    const outward = Object.values(networkInterfaces())
      .flat()
      .filter((one) => one !== undefined && !one.internal && one.family === 'IPv4')
    for (const one of outward) {
      const refused = await new Promise<boolean>((resolve) => {
        const socket = connect({ host: one!.address, port: server.port, timeout: 2000 })
        socket.on('connect', () => resolve((socket.destroy(), false)))
        for (const event of ['error', 'timeout'] as const)
          socket.on(event, () => resolve((socket.destroy(), true)))
      })
      expect(refused, one!.address).toBe(true)
    }
    expect(server.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/#[\w-]{43}$/)
  })
})

describe('what is served', () => {
  it('carries the safety headers on every answer', async () => {
    const { server, get } = await serveWalk()
    for (const answer of [
      await get('/'),
      await get('/page.js'),
      await get('/api/walk'),
      await get('/nothing'),
      await ask(server.port, '/'),
    ]) {
      const policy = answer.headers['content-security-policy'] as string
      expect(policy).toMatch(/^default-src 'none'; script-src 'self'; style-src 'self'; /)
      expect(policy).toContain("frame-ancestors 'none'")
      expect(policy).not.toMatch(/unsafe|\*|https?:/)
      expect(answer.headers).toMatchObject({
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
        'cache-control': 'no-store',
        'cross-origin-resource-policy': 'same-origin',
      })
    }
  })

  it('has no way to a file that is no still of the walk, however its path is written', async () => {
    const { dir, get } = await serveWalk()
    await writeFile(join(dir, '..', 'secret.jpg'), 'secret')
    const paths = [
      '/../secret.jpg',
      '/..%2fsecret.jpg',
      '/%2e%2e/secret.jpg',
      '/..\\secret.jpg',
      '//etc/passwd',
      '/walk.yaml',
      '/picks.json',
      '/stills/day/4m.jpg',
      '/%2e/page.js',
      '/./page.js',
      '/page.js/',
      '/page.js%00',
      '/index.html',
      '/PAGE.JS',
    ]
    for (const path of paths) expect((await get(path)).status, path).toBe(404)
    const files = [
      '../secret.jpg',
      '..%2fsecret.jpg',
      'stills/../../secret.jpg',
      'stills/day/../../../secret.jpg',
      '/etc/passwd',
      'walk.yaml',
      'picks.json',
      './stills/day/4m.jpg',
      'stills//day/4m.jpg',
      'stills/day/4m.jpg\0',
      '',
    ]
    for (const file of files) {
      for (const route of [
        'thumb?',
        'tile?level=0&x=0&y=0&',
        'rectified?reference=board&points=1,1,9,1,9,9,1,9&',
      ]) {
        const answer = await get(`/api/still/${route}stamp=0&file=${encodeURIComponent(file)}`)
        expect([file, answer.status]).toEqual([file, 404])
      }
    }
  })

  it('opens no link out of the walk, neither a still nor a folder', async () => {
    const outside = await temporaryFolder()
    const dir = await smallWalk()
    await cp(dir, join(outside, 'other'), { recursive: true })
    await symlink(join(outside, 'other/stills/day/4m.jpg'), join(dir, 'stills/day/5m.jpg'))
    await symlink(join(outside, 'other/stills/day'), join(dir, 'stills/day/more'))
    await symlink(join(outside, 'other/stills/day'), join(dir, 'stills/night'))
    const { walk, get, post } = await serveWalk(dir)
    const { stills } = await walk()
    for (const file of ['stills/day/5m.jpg', 'stills/day/more', 'stills/night']) {
      const still = stills.find((one) => one.file === file)!
      expect(still.state).toBe('failed')
      const query = `file=${encodeURIComponent(file)}&stamp=${still.stamp}`
      expect((await get(`/api/still/thumb?${query}`)).status).toBe(422)
      expect((await get(`/api/still/tile?${query}&level=0&x=0&y=0`)).status).toBe(422)
      const pick = {
        reference: 'board',
        corners: [
          [1, 1],
          [90, 1],
          [90, 60],
          [1, 60],
        ],
        method: 'hand',
      }
      expect((await post('/api/measure', { file, pick })).json).toMatchObject({ ok: false })
    }
    expect(
      stills.some(({ file }) => file.startsWith('stills/night/') || file.startsWith('stills/day/more/')),
    ).toBe(false)
  })

  it('opens no still whose folder was swapped for a link after it was listed', async () => {
    const { dir, still, get } = await serveWalk()
    const { file, stamp } = await still('stills/day/6m.jpg')
    const outside = join(await temporaryFolder(), 'other')
    await cp(join(dir, 'stills/day'), outside, { recursive: true, preserveTimestamps: true })
    await rename(join(dir, 'stills/day'), join(dir, 'stills/away'))
    await symlink(outside, join(dir, 'stills/day'))
    const answer = await get(
      `/api/still/tile?file=${encodeURIComponent(file)}&stamp=${stamp}&level=1&x=0&y=0`,
    )
    expect([404, 422]).toContain(answer.status)
  })
})

describe('what is taken', () => {
  it('takes no huge body, neither announced nor streamed', async () => {
    const { server, own, post } = await serveWalk()
    const headers = { ...own, ...JSON_TYPE }
    const body = JSON.stringify({ file: 'x'.repeat(MOST_BODY_BYTES), pick: null })
    expect((await ask(server.port, '/api/measure', { method: 'POST', headers, body })).status).toBe(413)
    const chunked = { ...headers, 'Transfer-Encoding': 'chunked' }
    const streamed = await ask(server.port, '/api/measure', { method: 'POST', headers: chunked, body })
    expect([streamed.status, streamed.headers.connection]).toEqual([413, 'close'])
    expect(
      (
        await post('/api/measure', {
          file: 'none',
          pick: {
            reference: null,
            corners: [
              [1, 1],
              [2, 1],
              [2, 2],
              [1, 2],
            ],
            method: 'hand',
          },
        })
      ).status,
    ).toBe(200)
  })

  it('takes nothing but the JSON its routes know', async () => {
    const { server, own, post } = await serveWalk()
    const send = (type: string, body: string) =>
      ask(server.port, '/api/assign', { method: 'POST', headers: { ...own, 'Content-Type': type }, body })
    expect((await send('text/plain', '{}')).status).toBe(400)
    expect((await send('application/x-www-form-urlencoded', 'a=b')).status).toBe(400)
    expect((await send('application/json', '{"changes": [')).status).toBe(400)
    for (const body of [
      {},
      [],
      null,
      { changes: [] },
      { changes: [{ file: 3 }] },
      { changes: 'all', more: true },
    ])
      expect((await post('/api/assign', body)).status).toBe(400)
    for (const path of ['/api/walk', '/api/none', '/', '/api/pick/'])
      expect((await post(path, {})).status).toBe(404)
    for (const method of ['PUT', 'DELETE', 'PATCH', 'HEAD', 'TRACE']) {
      expect(
        (await ask(server.port, '/api/walk', { method, headers: own })).status,
        method,
      ).toBeGreaterThanOrEqual(400)
    }
  })
})

describe('starting and ending', () => {
  it('names a port that is taken, and a page that was not built', async () => {
    const { server, dir } = await serveWalk()
    const filesDir = await temporaryFolder()
    const fault = await startPageServer({ dir, filesDir }).catch((error: unknown) => error)
    expect((fault as ProofwalkError).code).toBe('page-not-built')
    await writeFile(join(filesDir, 'index.html'), '')
    const taken = await startPageServer({ dir, filesDir, port: server.port }).catch((error: unknown) => error)
    expect((taken as ProofwalkError).code).toBe('port-taken')
  })

  it('ends when the page says so, with its streams', async () => {
    const { server, own, post } = await serveWalk()
    const events = ask(server.port, '/api/events', { headers: own })
    await new Promise((resolve) => setTimeout(resolve, 100))
    expect((await post('/api/quit', {})).status).toBe(202)
    await server.ended
    const told = (await events).bytes.toString()
    expect(told).toMatch(/^event: hello\ndata: \{"kind":"hello","revision":\d+\}\n\n/)
    expect(told).toMatch(/event: end\ndata: \{"kind":"end"\}\n\n$/)
    await expect(ask(server.port, '/')).rejects.toThrow('ECONNREFUSED')
  })
})
