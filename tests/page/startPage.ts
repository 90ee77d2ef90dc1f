import { fileURLToPath } from 'node:url'
import { startPageServer } from '../../src/page/server/startPageServer.js'
import type { RunningPage } from './openPage.js'

/** The page as built: the tests' own build runs before them. */
const PAGE_FILES = fileURLToPath(new URL('../../dist/browser', import.meta.url))

/** Serves a walk's page as `pick` does, in this process, which has loaded and compiled all that takes already. */
export async function startPage(dir: string): Promise<RunningPage> {
  const { address, port, close } = await startPageServer({ dir, begin: null, filesDir: PAGE_FILES })
  return { address, port, end: close }
}
