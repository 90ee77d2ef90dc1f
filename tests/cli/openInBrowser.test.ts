import { chmod, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { openInBrowser } from '../../src/cli/terminal/openCommand.js'

const ADDRESS = 'http://127.0.0.1:4711/?key=a-b_c'

let dir = ''
beforeEach(async () => {
  dir = await mkdtemp(join(tmpdir(), 'proofwalk-browser-'))
})
afterEach(async () => {
  vi.unstubAllEnvs()
  await rm(dir, { recursive: true })
})

/** Lets a shell script be the browser: the freedesktop.org tools ask the variable BROWSER first. */
async function browserIs(script: string): Promise<void> {
  const file = join(dir, 'browser')
  await writeFile(file, `#!/bin/sh\n${script}\n`)
  await chmod(file, 0o755)
  vi.stubEnv('BROWSER', file)
}

test.runIf(process.platform === 'linux')('the browser is handed the address as it is', async () => {
  const seen = join(dir, 'seen')
  await browserIs(`printf '%s' "$1" > '${seen}'`)
  expect(await openInBrowser(ADDRESS)).toBe(true)
  expect(await readFile(seen, 'utf8')).toBe(ADDRESS)
})

test.runIf(process.platform === 'linux')('a browser that stays open is waited for no longer', async () => {
  await browserIs('sleep 3')
  expect(await openInBrowser(ADDRESS)).toBe(true)
})

test.runIf(process.platform === 'linux')('a browser that cannot be opened is told', async () => {
  await browserIs('exit 1')
  expect(await openInBrowser(ADDRESS)).toBe(false)
})
