import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import { openStill, type StillFile } from '../../src/still/openStill.js'

/** An 8-bit grey test picture, lopsided so that every turn and mirror shows: 60 x 40 px. */
export const PICTURE_WIDTH = 60
export const PICTURE_HEIGHT = 40
export function pictureCode(column: number, row: number): number {
  return (column * 3 + row * 2 + (column < 10 && row < 6 ? 90 : 0)) % 256
}

/** The picture's samples, the same in each of `channels` colours. */
export function pictureSamples(channels: 1 | 3): Buffer {
  const samples = Buffer.alloc(PICTURE_WIDTH * PICTURE_HEIGHT * channels)
  for (let row = 0; row < PICTURE_HEIGHT; row++) {
    for (let column = 0; column < PICTURE_WIDTH; column++) {
      samples.fill(
        pictureCode(column, row),
        (row * PICTURE_WIDTH + column) * channels,
        (row * PICTURE_WIDTH + column + 1) * channels,
      )
    }
  }
  return samples
}

/** The picture in three equal colours, ready to be written in any format. */
export function picture(): Sharp {
  return sharp(pictureSamples(3), { raw: { width: PICTURE_WIDTH, height: PICTURE_HEIGHT, channels: 3 } })
}

/** Runs `work` with a folder of its own, removed afterwards. */
export async function inFolder<Result>(work: (folder: string) => Promise<Result>): Promise<Result> {
  const folder = await mkdtemp(join(tmpdir(), 'still-test-'))
  try {
    return await work(folder)
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/** Opens bytes as a still; fails the test where they are refused. */
export async function openBytes(bytes: Buffer, name = 'still'): Promise<StillFile> {
  return inFolder(async (folder) => {
    const path = join(folder, name)
    await writeFile(path, bytes)
    const opened = await openStill(path)
    if (!opened.ok) throw new Error(`${opened.code}: ${opened.message}`)
    return opened.value
  })
}

/** The code with which bytes are refused as a still, or null where they are not. */
export async function refusalOf(bytes: Buffer): Promise<string | null> {
  return inFolder(async (folder) => {
    const path = join(folder, 'still')
    await writeFile(path, bytes)
    const opened = await openStill(path)
    return opened.ok ? null : opened.code
  })
}
