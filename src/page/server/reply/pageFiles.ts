import { readdir, readFile } from 'node:fs/promises'
import { extname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { fault } from '../../../sentences.js'
import { pageSays } from '../../sentences.js'

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
}

/** Where the pages' own files lie once the program is bundled: beside it. */
export const PAGE_FILES = fileURLToPath(new URL('./browser', import.meta.url))

/** A file of the page itself. */
export interface PageFile {
  readonly type: string
  readonly bytes: Uint8Array
}

/**
 * The page's own files by the path they are asked for, read once: `index.html` is `/`.
 * @throws `ProofwalkError` `page-not-built` where the page was not built
 */
export async function pageFiles(dir: string): Promise<ReadonlyMap<string, PageFile>> {
  const names = await readdir(dir).catch((): string[] => [])
  if (!names.includes('index.html')) {
    throw fault(pageSays['page-not-built']())
  }
  const files = new Map<string, PageFile>()
  for (const name of names) {
    const type = TYPES[extname(name)]
    if (type === undefined) continue
    files.set(name === 'index.html' ? '/' : `/${name}`, { type, bytes: await readFile(join(dir, name)) })
  }
  return files
}
