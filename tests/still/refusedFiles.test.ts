import { execFileSync } from 'node:child_process'
import { chmod, mkdir, symlink, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import sharp from 'sharp'
import { ProofwalkError } from '../../src/errors.js'
import { openStill } from '../../src/still/openStill.js'
import { faultOfReading } from '../../src/still/readStillBytes.js'
import { greyPng } from './greyPng.js'
import { inFolder, openBytes, picture, refusalOf } from './madePictures.js'
import { dropRootRights } from '../rootRights.js'

async function codeOf(path: string): Promise<string> {
  const opened = await openStill(path)
  return opened.ok ? 'opened' : opened.code
}

/** Every format, large and restless enough to have many pieces. */
async function oneOfEach(): Promise<Record<string, Buffer>> {
  const samples = Buffer.from(Array.from({ length: 300 * 200 * 3 }, (_, index) => (index * index * 31) % 251))
  const restless = sharp(samples, { raw: { width: 300, height: 200, channels: 3 } })
  return {
    jpeg: await restless.clone().jpeg().toBuffer(),
    'progressive jpeg': await restless.clone().jpeg({ progressive: true }).toBuffer(),
    png: await restless.clone().png().toBuffer(),
    webp: await restless.clone().webp().toBuffer(),
    tiff: await restless.clone().tiff({ compression: 'lzw' }).toBuffer(),
    'tiled tiff': await restless.clone().tiff({ compression: 'lzw', tile: true }).toBuffer(),
    avif: await restless.clone().avif().toBuffer(),
  }
}

describe('files that are no stills', () => {
  it('are refused, each by its own code, and never waited for', async () => {
    await inFolder(async (folder) => {
      const at = (name: string): string => join(folder, name)
      await writeFile(at('empty.jpg'), '')
      await writeFile(at('notes.jpg'), 'These are notes, not a picture.\n')
      await writeFile(at('real.png'), await picture().png().toBuffer())
      await symlink(at('real.png'), at('link.png'))
      await mkdir(at('folder.jpg'))
      execFileSync('mkfifo', [at('pipe.jpg')])
      expect(await codeOf(at('empty.jpg'))).toBe('still-empty')
      expect(await codeOf(at('notes.jpg'))).toBe('still-not-a-picture')
      expect(await codeOf(at('link.png'))).toBe('still-link')
      expect(await codeOf(at('folder.jpg'))).toBe('still-not-a-file')
      expect(await codeOf(at('pipe.jpg'))).toBe('still-not-a-file')
      expect(await codeOf('/dev/zero')).toBe('still-not-a-file')
      expect(await codeOf(at('nowhere.jpg'))).toBe('still-missing')
      expect(await codeOf(at('real.png/nowhere.jpg'))).toBe('still-missing')
      expect(await codeOf(at('real.png'))).toBe('opened')
    })
  })

  it('that may not be read are told', async () => {
    expect(faultOfReading(Object.assign(new Error('no'), { code: 'EACCES' }))).toMatchObject({
      code: 'still-unreadable',
    })
    expect(faultOfReading(Object.assign(new Error('no'), { code: 'EIO' }))).toMatchObject({
      code: 'still-unreadable',
    })
    await inFolder(async (folder) => {
      const path = join(folder, 'still.png')
      await writeFile(path, await picture().png().toBuffer())
      await chmod(path, 0)
      await chmod(folder, 0o755)
      const restore = dropRootRights()
      const code = await codeOf(path).finally(restore)
      expect(code).toBe('still-unreadable')
    })
  })

  it('of other formats are told with their mend', async () => {
    const box = (brand: string): Buffer => Buffer.from(`\0\0\0\x14ftyp${brand}\0\0\0\0${brand}`, 'latin1')
    expect(await refusalOf(box('heic'))).toBe('still-is-heic')
    expect(await refusalOf(box('isom'))).toBe('still-is-video')
    expect(await refusalOf(Buffer.from('RIFF\x40\0\0\0AVI LIST', 'latin1'))).toBe('still-is-video')
    expect(await refusalOf(Buffer.from('\x1a\x45\xdf\xa3 webm', 'latin1'))).toBe('still-is-video')
    expect(await refusalOf(await picture().gif().toBuffer())).toBe('still-wrong-format')
    expect(
      await refusalOf(Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')),
    ).toBe('still-not-a-picture')
    expect(await refusalOf(floatTiff())).toBe('still-wrong-format')
  })

  it('are refused when cut short anywhere, whatever region would be read', async () => {
    for (const [name, bytes] of Object.entries(await oneOfEach())) {
      expect(await refusalOf(bytes), name).toBe(null)
      for (const share of [0.2, 0.5, 0.9, 0.99]) {
        const code = await refusalOf(bytes.subarray(0, Math.floor(bytes.length * share)))
        expect(code, `${name} at ${share}`).toBe('still-cut-short')
      }
      for (const kept of [4, 9, 13, 20, 40, bytes.length - 1]) {
        expect(await refusalOf(bytes.subarray(0, kept)), `${name}, ${kept} bytes`).not.toBe(null)
      }
    }
  })

  it('with bytes behind their end are read all the same', async () => {
    for (const [name, bytes] of Object.entries(await oneOfEach())) {
      if (name === 'avif') continue
      expect(await refusalOf(Buffer.concat([bytes, Buffer.from('serial 0001 and so on')])), name).toBe(null)
    }
  })

  it('are not taken for whole by the end of a thumbnail in their head', async () => {
    const bytes = await picture().jpeg().toBuffer()
    const note = Buffer.from([0xff, 0xe5, 0, 8, 0xff, 0xd8, 0xff, 0xda, 0xff, 0xd9])
    const withThumbnail = Buffer.concat([bytes.subarray(0, 2), note, bytes.subarray(2)])
    expect(await refusalOf(withThumbnail)).toBe(null)
    expect(await refusalOf(withThumbnail.subarray(0, withThumbnail.length - 2))).toBe('still-cut-short')
  })

  it('whose head says another depth of samples than their data are refused', async () => {
    const bytes = await picture().avif().toBuffer()
    const flags = bytes.indexOf('av1C') + 6
    for (const wrong of [0x40, 0x60, 0xf0]) {
      const spoilt = Buffer.from(bytes)
      spoilt[flags] = spoilt[flags]! | wrong
      expect(await refusalOf(spoilt), String(wrong)).toBe('still-damaged')
    }
    const version = Buffer.from(bytes)
    version[flags - 2] = 0xff
    expect(await refusalOf(version)).toBe('still-damaged')
    expect(await refusalOf(bytes)).toBe(null)
  })

  it('too large to be stills are refused by their head alone', async () => {
    expect(await refusalOf(greyPng({ code: 9, width: 100_000, height: 3 }))).toBe('still-too-large')
    const claimed = greyPng({ code: 9 })
    const huge = await inHead(claimed, 29_000, 29_000)
    expect(await refusalOf(huge)).toBe('still-too-large')
  })

  it('damaged inside fail by name when their pixels are read', async () => {
    for (const [name, bytes] of Object.entries(await oneOfEach())) {
      const spoilt = Buffer.from(bytes)
      spoilt.fill(0x5a, Math.floor(bytes.length * 0.4), Math.floor(bytes.length * 0.6))
      let failed: unknown = null
      try {
        const still = await openBytes(spoilt)
        await still.region({ left: 0, top: 0, width: still.width, height: still.height })
      } catch (error) {
        failed = error
      }
      if (failed instanceof ProofwalkError) expect(failed.code, name).toBe('still-damaged')
      else if (failed !== null) expect(String(failed), name).toMatch(/still-(damaged|cut-short)/)
      if (name === 'png' || name === 'tiff') expect(failed, name).not.toBe(null)
    }
  })
})

/** The same PNG with another size claimed in its head. The head's check is left as it was. */
async function inHead(bytes: Buffer, width: number, height: number): Promise<Buffer> {
  const changed = Buffer.from(bytes)
  changed.writeUInt32BE(width, 16)
  changed.writeUInt32BE(height, 20)
  return changed
}

/** A grey TIFF of 4 x 4 samples that are 32-bit floating-point numbers: TIFF 6.0, sections 2 and 19. */
function floatTiff(): Buffer {
  const entries = [
    [256, 4],
    [257, 4],
    [258, 32],
    [259, 1],
    [262, 1],
    [273, 8 + 2 + 9 * 12 + 4],
    [277, 1],
    [279, 64],
    [339, 3],
  ] as const
  const bytes = Buffer.alloc(8 + 2 + entries.length * 12 + 4 + 64)
  bytes.write('II*\0', 0, 'latin1')
  bytes.writeUInt32LE(8, 4)
  bytes.writeUInt16LE(entries.length, 8)
  for (const [index, [tag, value]] of entries.entries()) {
    const at = 10 + 12 * index
    bytes.writeUInt16LE(tag, at)
    bytes.writeUInt16LE(4, at + 2)
    bytes.writeUInt32LE(1, at + 4)
    bytes.writeUInt32LE(value, at + 8)
  }
  return bytes
}
