import type { Raster } from './raster.js'

/** What tells whether two files show one picture: the hash of the bytes, the size in px, and the hashes of some blocks of pixels. */
export interface PictureSigns {
  readonly sha256: string
  readonly width: number
  readonly height: number
  /** "x,y:hash", the upper left pixel of each block; empty where no pixels were looked at. */
  readonly blocks: readonly string[]
}

/** Blocks lie on a grid of their own side, so that those of regions a little apart are the same ones: px. */
const BLOCK_PX = 16
/** So many blocks of a region are kept: those with the most values in them, edges before plain ground. */
const MOST_BLOCKS = 16
/** A block of fewer code values may look alike in two exposures, as white does; four of more never do. This project's convention. */
const LEAST_VALUES = 12
const LEAST_ALIKE = 4

/** The signs of a decoded region: hashes of the luma, in whole code values, of its blocks with the most in them. Coordinates are the still's, px. */
export function blocksOf(raster: Raster): string[] {
  const found: { readonly place: string; readonly codes: Uint8Array; readonly values: number }[] = []
  const start = (from: number): number => Math.ceil(from / BLOCK_PX) * BLOCK_PX
  for (let y = start(raster.top); y + BLOCK_PX <= raster.top + raster.height; y += BLOCK_PX) {
    for (let x = start(raster.left); x + BLOCK_PX <= raster.left + raster.width; x += BLOCK_PX) {
      const codes = blockAt(raster, x, y)
      const values = valuesIn(codes)
      if (values >= LEAST_VALUES) found.push({ place: `${x},${y}`, codes, values })
    }
  }
  return found
    .sort((a, b) => b.values - a.values)
    .slice(0, MOST_BLOCKS)
    .map(({ place, codes }) => `${place}:${hashOf(codes)}`)
}

/** How many code values occur. */
function valuesIn(codes: Uint8Array): number {
  const seen = new Uint8Array(256)
  let count = 0
  for (const code of codes) {
    count += 1 - seen[code]!
    seen[code] = 1
  }
  return count
}

/** 64 bits in hexadecimals: two hashes of Fowler, Noll and Vo (FNV-1a, 32 bits), of the codes and of their complements; no guard against forgers, who change a pixel. */
function hashOf(codes: Uint8Array): string {
  let [a, b] = [0x811c9dc5, 0x811c9dc5]
  for (const code of codes) {
    a = Math.imul(a ^ code, 0x01000193)
    b = Math.imul(b ^ (255 - code), 0x01000193)
  }
  return [a, b].map((half) => (half >>> 0).toString(16).padStart(8, '0')).join('')
}

function blockAt({ left, top, width, data }: Raster, x: number, y: number): Uint8Array {
  const codes = new Uint8Array(BLOCK_PX * BLOCK_PX)
  for (let j = 0; j < BLOCK_PX; j++) {
    const from = (y - top + j) * width + x - left
    for (let i = 0; i < BLOCK_PX; i++) codes[j * BLOCK_PX + i] = Math.round(data[from + i]!)
  }
  return codes
}

/** Whether two files show one picture: equal bytes, or equal pixels wherever both were looked at, in four blocks at least. */
export function isSamePicture(one: PictureSigns, other: PictureSigns): boolean {
  if (one.sha256 === other.sha256) return true
  if (one.width !== other.width || one.height !== other.height) return false
  const here = hashesByPlace(one.blocks)
  let common = 0
  for (const [place, hash] of hashesByPlace(other.blocks)) {
    const own = here.get(place)
    if (own === undefined) continue
    if (own !== hash) return false
    common++
  }
  return common >= LEAST_ALIKE
}

/** Blocks already taken apart: a still of thousands is held against many. */
const apart = new WeakMap<readonly string[], ReadonlyMap<string, string>>()

function hashesByPlace(blocks: readonly string[]): ReadonlyMap<string, string> {
  const known = apart.get(blocks)
  if (known !== undefined) return known
  const hashes = new Map(blocks.map((block) => block.split(':') as [string, string]))
  apart.set(blocks, hashes)
  return hashes
}
