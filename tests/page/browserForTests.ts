import type { Browser } from 'playwright-core'
import { afterAll, afterEach, beforeAll } from 'vitest'
import { type RunningPage, type RunningPick, startBrowser, startPick } from './openPage.js'
import { startPage } from './startPage.js'

/** A browser for the tests of a file, and the pages they serve of their walks. */
export interface BrowserForTests {
  readonly browser: Browser
  /** Serves a walk's page; it ends with the test. */
  start(dir: string): Promise<RunningPage>
  /** Starts `proofwalk pick` (or `read`) on a walk, or without one within a folder, as a process of its own; it ends with the test. */
  startCommand(
    dir: string | { readonly within: string },
    port?: number,
    command?: 'pick' | 'read',
  ): Promise<RunningPick>
}

/** Starts a browser before the tests of a file; after each its pages are closed and their servers ended. */
export function browserForTests(): BrowserForTests {
  let browser: Browser
  const running: RunningPage[] = []
  beforeAll(async () => {
    browser = await startBrowser()
  }, 60_000)
  afterEach(async () => {
    for (const context of browser.contexts()) await context.close()
    for (const page of running.splice(0)) await page.end()
  }, 60_000)
  afterAll(() => browser.close(), 60_000)
  return {
    get browser() {
      return browser
    },
    async start(dir) {
      const page = await startPage(dir)
      running.push(page)
      return page
    },
    async startCommand(dir, port = 0, command = 'pick') {
      const pick = await startPick(dir, port, command)
      running.push(pick)
      return pick
    },
  }
}
