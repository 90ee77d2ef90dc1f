import { request as httpRequest, type IncomingHttpHeaders } from 'node:http'
import { rmSync } from 'node:fs'
import { cp, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import type { PageEvent, StillView, WalkView } from '../../src/page/api.js'
import type { PageServer } from '../../src/page/server/reply/serveLoopback.js'
import { startPageServer } from '../../src/page/server/startPageServer.js'
import { makeSmallWalk } from '../journeys/smallWalk.js'

/** An answer, as it came over the wire. */
export interface Answer {
  readonly status: number
  readonly headers: IncomingHttpHeaders
  readonly bytes: Buffer
  readonly json: unknown
}

/** One raw request; every header is as given, Host included. */
export function ask(
  port: number,
  path: string,
  options: {
    readonly method?: string
    readonly headers?: Record<string, string>
    readonly body?: string | Buffer
  } = {},
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const headers = { Host: `127.0.0.1:${port}`, ...options.headers }
    const method = options.method ?? 'GET'
    const sent = httpRequest({ host: '127.0.0.1', port, path, method, headers, agent: false }, (response) => {
      const parts: Buffer[] = []
      response.on('data', (part: Buffer) => parts.push(part))
      response.on('error', reject)
      response.on('end', () => {
        const bytes = Buffer.concat(parts)
        let json: unknown = null
        try {
          json = JSON.parse(bytes.toString())
        } catch {
          // pictures and plain words
        }
        resolve({ status: response.statusCode ?? 0, headers: response.headers, bytes, json })
      })
    })
    sent.on('error', reject)
    sent.end(options.body)
  })
}

/** Shows a token to a server, as its page does. */
export function enterWith(port: number, token: string): Promise<Answer> {
  const headers = { Origin: `http://127.0.0.1:${port}`, 'Content-Type': 'application/json' }
  return ask(port, '/api/enter', { method: 'POST', headers, body: JSON.stringify({ token }) })
}

/** A server on a walk, and what a page on it may do. */
export interface ServedWalk {
  readonly dir: string
  readonly server: PageServer
  /** Headers of the page itself. */
  readonly own: Record<string, string>
  get(path: string): Promise<Answer>
  post(path: string, body: unknown): Promise<Answer>
  walk(): Promise<WalkView>
  /** All that is told from now on, as it comes. */
  events(): Promise<readonly PageEvent[]>
  still(file: string): Promise<StillView>
}

/** A folder that is gone after the test. */
export async function temporaryFolder(): Promise<string> {
  const dir = await mkdtemp(join(tmpdir(), 'proofwalk-page-'))
  onTestFinished(() => rm(dir, { recursive: true, force: true }))
  return dir
}

let pattern: Promise<string> | null = null

/** A copy of the small walk, which is made once a test file; gone after the test. */
export async function smallWalk(): Promise<string> {
  pattern ??= (async () => {
    const dir = await mkdtemp(join(tmpdir(), 'proofwalk-page-'))
    process.once('exit', () => rmSync(dir, { recursive: true, force: true }))
    await makeSmallWalk(dir)
    return dir
  })()
  const dir = join(await temporaryFolder(), 'walk')
  await cp(await pattern, dir, { recursive: true })
  return dir
}

/** Starts a server on a walk's folder (the small walk, freshly made, where none is given) and enters with its address; it ends with the test. */
export async function serveWalk(given?: string): Promise<ServedWalk> {
  const dir = given ?? (await smallWalk())
  const filesDir = await temporaryFolder()
  await writeFile(join(filesDir, 'index.html'), '<!doctype html><title>page</title>')
  await writeFile(join(filesDir, 'page.js'), 'export {}')
  const server = await startPageServer({ dir, filesDir })
  onTestFinished(() => server.close())
  const Origin = `http://127.0.0.1:${server.port}`
  const { json } = await enterWith(server.port, new URL(server.address).hash.slice(1))
  const own = { 'X-Session': (json as { session: string }).session, Origin }
  const get = (path: string): Promise<Answer> => ask(server.port, path, { headers: own })
  const walk = async (): Promise<WalkView> => (await get('/api/walk')).json as WalkView
  return {
    dir,
    server,
    own,
    get,
    post: (path, body) =>
      ask(server.port, path, {
        method: 'POST',
        headers: { ...own, 'Content-Type': 'application/json', 'X-Page': 'test' },
        body: JSON.stringify(body),
      }),
    walk,
    events: () => listen(server.port, own),
    async still(file) {
      for (let tries = 0; ; tries++) {
        const still = (await walk()).stills.find((one) => one.file === file)
        if (still === undefined) throw new Error(`no ${file}`)
        if (still.head !== null || still.state === 'failed' || tries > 200) return still
        await new Promise((resolve) => setTimeout(resolve, 25))
      }
    },
  }
}

function listen(port: number, headers: Record<string, string>): Promise<readonly PageEvent[]> {
  return new Promise((resolve, reject) => {
    const told: PageEvent[] = []
    let text = ''
    const sent = httpRequest({ host: '127.0.0.1', port, path: '/api/events', headers }, (response) => {
      response.setEncoding('utf8').on('data', (part: string) => {
        const blocks = (text + part).split('\n\n')
        text = blocks.pop() ?? ''
        for (const block of blocks) {
          const data = /^data: (.*)$/m.exec(block)?.[1]
          if (data !== undefined) told.push(JSON.parse(data) as PageEvent)
        }
        resolve(told)
      })
    })
    sent.on('error', reject)
    onTestFinished(() => void sent.destroy())
    sent.end()
  })
}
