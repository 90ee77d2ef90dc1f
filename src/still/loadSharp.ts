import { readdir, readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import type Sharp from 'sharp'

/** How the decoder is set for the whole process. */
export interface DecoderSettings {
  /** Threads one decode may use; 1 where several workers decode at once. */
  readonly threads: number
}

/**
 * Loads the decoder on first use, so that commands which decode nothing do not pay for it, and sets it: no cache (each still
 * is decoded once), and so many threads a decode. Both settings hold for the whole process.
 */
export async function loadSharp(settings: DecoderSettings): Promise<typeof Sharp> {
  const { default: sharp } = await import('sharp')
  sharp.cache(false)
  sharp.concurrency(settings.threads)
  return sharp
}

/** What decodes on this machine, by the versions of sharp's packages; the decoder itself is asked, which loads it, only where it was built by hand. */
export async function decoderVersions(): Promise<string> {
  const sharp = dirname(dirname(createRequire(import.meta.url).resolve('sharp')))
  const builds = join(sharp, '../@img')
  const names = (await readdir(builds).catch(() => [])).filter((name) => name.startsWith('sharp-')).sort()
  if (names.length === 0) return JSON.stringify((await loadSharp({ threads: 1 })).versions)
  const folders = [sharp, ...names.map((name) => join(builds, name))]
  return (await Promise.all(folders.map(nameAndVersion))).join(' ')
}

async function nameAndVersion(folder: string): Promise<string> {
  const { name, version } = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8')) as {
    name: string
    version: string
  }
  return `${name}@${version}`
}
