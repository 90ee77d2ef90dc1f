import { rm } from 'node:fs/promises'
import type { BrowserContextOptions } from 'playwright-core'
import { put } from '../journeys/smallWalk.js'
import type { TemporaryHome } from '../journeys/temporaryHome.js'
import type { BrowserForTests } from './browserForTests.js'
import { isDrawn, type OpenPage, openPage } from './openPage.js'

/** A walk with one still, and its file below the walk's folder. */
interface OneStill {
  readonly name: string
  readonly yaml: string
  readonly file: string
  readonly still: Uint8Array
}

/** The page of a walk with one still, drawn. */
export async function pageOfStill(
  home: TemporaryHome,
  chromium: BrowserForTests,
  { name, yaml, file, still }: OneStill,
  options: BrowserContextOptions = {},
): Promise<OpenPage & { dir: string }> {
  const dir = home.path(name)
  await rm(dir, { recursive: true, force: true })
  await put(dir, 'walk.yaml', yaml)
  await put(dir, file, still)
  const pick = await chromium.start(dir)
  const opened = await openPage(chromium.browser, pick.address, options)
  await isDrawn(opened.page, file)
  return { dir, ...opened }
}
