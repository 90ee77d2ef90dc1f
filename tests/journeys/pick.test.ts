import { spawn } from 'node:child_process'
import { mkdir, readdir } from 'node:fs/promises'
import { expect, test } from 'vitest'
import { folderState } from './folderState.js'
import { BIN, runProofwalk } from './runProofwalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

/** Runs `pick` until it has printed its address, then ends it as `end` says. */
async function pick(
  dir: string,
  end: (address: string, kill: (signal: NodeJS.Signals) => void) => Promise<void> | void,
) {
  const child = spawn(process.execPath, [BIN, 'pick', dir, '--no-open'], {
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let out = ''
  let err = ''
  child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text))
  const address = await new Promise<string>((resolve, reject) => {
    child.on('error', reject)
    child.on('close', () => reject(new Error(err)))
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text
      if (out.includes('\n')) resolve(out.slice(0, out.indexOf('\n')))
    })
  })
  const closed = new Promise<number | null>((resolve) => child.on('close', resolve))
  await end(address, (signal) => void child.kill(signal))
  return { status: await closed, out, err }
}

test('the page is served until Ctrl-C, prints its address first and the next command last, and leaves nothing behind', async () => {
  const dir = await home.freshWalk('picked')
  const before = await folderState(dir)
  await mkdir(home.path('tmp'))
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    const { status, out, err } = await pick(dir, async (address, kill) => {
      expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/#[\w-]+$/)
      const page = await fetch(address)
      expect([page.status, page.headers.get('content-type')]).toEqual([200, 'text/html; charset=utf-8'])
      kill(signal)
    })
    expect(status, err).toBe(0)
    expect(out.split('\n').slice(1)).toEqual([`Next: proofwalk measure ${dir}`, ''])
  }
  expect(await folderState(dir)).toEqual(before)
  expect(await readdir(home.path('tmp'))).toEqual([])
})

test('a walk that is at fault, and a port that is no port, are told in one line', async () => {
  const none = await runProofwalk(['pick', home.path('nowhere'), '--no-open'])
  expect([none.status, none.out]).toEqual([2, ''])
  expect(none.err).toMatch(/^proofwalk: .*nowhere: is not there; proofwalk new .*\n$/)
  const port = await runProofwalk(['pick', home.path('pattern'), '--no-open', '--port', '70000'])
  expect(port.status).toBe(2)
  expect(port.err).toContain('--port')
})
