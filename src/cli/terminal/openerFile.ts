import { mkdir, mkdtemp, rm, rmdir, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A file that leads a browser to an address, and how it goes away again. */
export interface OpenerFile {
  readonly path: string
  remove(): Promise<void>
}

/**
 * Writes a page that leads on to `address`, readable by its owner alone: handed over as a file, the address stands in no list of processes. In the walk's
 * `.proofwalk`, which a browser that is shut into its owner's folders can read; where that cannot be written, among the machine's temporary files.
 */
export async function openerFile(dir: string, address: string): Promise<OpenerFile> {
  const own = join(dir, '.proofwalk')
  return (
    (await written(own, address)) ?? (await written(await mkdtemp(join(tmpdir(), 'proofwalk-')), address))!
  )
}

async function written(folder: string, address: string): Promise<OpenerFile | null> {
  const path = join(folder, 'open.html')
  const page = `<!doctype html><meta charset="utf-8"><title>Proofwalk</title><script>location.replace(${JSON.stringify(address)})</script>\n`
  try {
    await mkdir(folder, { recursive: true })
    await rm(path, { force: true })
    await writeFile(path, page, { mode: 0o600, flag: 'wx' })
  } catch {
    return null
  }
  // what is a walk's cache by then, or was another's folder, stays
  const remove = async (): Promise<void> => {
    await rm(path, { force: true })
    await rmdir(folder)
  }
  return { path, remove: () => remove().catch(() => undefined) }
}
