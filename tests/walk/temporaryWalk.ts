import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { onTestFinished } from 'vitest'

/** Makes a folder with these files (path to contents) that is gone after the test; returns its path. */
export async function temporaryWalk(files: Readonly<Record<string, string | Uint8Array>>): Promise<string> {
  const dir = await mkdtemp(join(tmpdir(), 'proofwalk-test-'))
  onTestFinished(() => rm(dir, { recursive: true, force: true }))
  for (const [path, contents] of Object.entries(files)) {
    await mkdir(dirname(join(dir, path)), { recursive: true })
    await writeFile(join(dir, path), contents)
  }
  return dir
}
