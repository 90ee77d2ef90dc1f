import type { Browser } from 'playwright-core'
import { afterAll, afterEach, beforeAll } from 'vitest'
import { type RunningPick, startBrowser, startPick } from './openPage.js'

/** A browser for the tests of a file, and the commands they start on their walks. */
export interface BrowserForTests {
  readonly browser: Browser
  /** Starts `proofwalk pick` (or `read`) on a walk, or without one within a folder; it ends with the test. */
  start(
    dir: string | { readonly within: string },
    port?: number,
    command?: 'pick' | 'read',
  ): Promise<RunningPick>
}

/** Starts a browser before the tests of a file; after each its pages are closed and its commands ended. */
export function browserForTests(): BrowserForTests {
  let browser: Browser
  const running: RunningPick[] = []
  beforeAll(async () => {
    browser = await startBrowser()
  }, 60_000)
  afterEach(async () => {
    for (const context of browser.contexts()) await context.close()
    for (const pick of running.splice(0)) await pick.end()
  }, 60_000)
  afterAll(() => browser.close(), 60_000)
  return {
    get browser() {
      return browser
    },
    async start(dir, port = 0, command = 'pick') {
      const pick = await startPick(dir, port, command)
      running.push(pick)
      return pick
    },
  }
}
