import { chmod, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { openerFile } from '../../src/cli/terminal/openerFile.js'
import { openInBrowser } from '../../src/cli/terminal/openCommand.js'

const ADDRESS = 'http://127.0.0.1:49213/#a-b_c'

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

test.runIf(process.platform === 'linux')(
  'the browser is handed a file that its owner alone reads and that leads on to the address, so that no list of processes shows it',
  async () => {
    const seen = join(dir, 'seen')
    await browserIs(`printf '%s' "$1" > '${seen}'`)
    const opener = await openerFile(dir, ADDRESS)
    expect(await openInBrowser(opener.path)).toBe(true)
    const handed = await readFile(seen, 'utf8')
    expect(handed).not.toContain('a-b_c')
    expect(handed).toMatch(/\.proofwalk\/open\.html$/)
    expect((await stat(opener.path)).mode & 0o777).toBe(0o600)
    expect(await readFile(opener.path, 'utf8')).toContain(`location.replace("${ADDRESS}")`)
    await opener.remove()
    await expect(stat(opener.path)).rejects.toThrow('ENOENT')
  },
)

test.runIf(process.platform === 'linux')(
  'in a folder that cannot be written the file lies elsewhere',
  async () => {
    await writeFile(join(dir, '.proofwalk'), 'in the way')
    const opener = await openerFile(dir, ADDRESS)
    expect(opener.path).not.toContain(dir)
    expect((await stat(opener.path)).mode & 0o777).toBe(0o600)
    await opener.remove()
  },
)

test.runIf(process.platform === 'linux')('a browser that stays open is waited for no longer', async () => {
  await browserIs('sleep 3')
  expect(await openInBrowser(ADDRESS)).toBe(true)
})

test.runIf(process.platform === 'linux')('a browser that cannot be opened is told', async () => {
  await browserIs('exit 1')
  expect(await openInBrowser(ADDRESS)).toBe(false)
})
