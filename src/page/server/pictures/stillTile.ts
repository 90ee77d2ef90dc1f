import { loadSharp } from '../../../still/loadSharp.js'
import { TILE_SIDE_PX } from '../../api.js'
import type { HeldStill } from './heldStills.js'
import type { Reply } from '../reply/reply.js'

/** Which tile of which halving. */
export interface TilePlace {
  readonly level: number
  readonly x: number
  readonly y: number
}

/** One tile of a still as a picture; null where the still has none there. The still's own pixels (level 0) without loss, others as JPEG. */
export async function stillTile(held: HeldStill, { level, x, y }: TilePlace): Promise<Reply | null> {
  const width = Math.ceil(held.still.width / 2 ** level)
  const height = Math.ceil(held.still.height / 2 ** level)
  const [left, top] = [x * TILE_SIDE_PX, y * TILE_SIDE_PX]
  if (left >= width || top >= height) return null
  const region = {
    left,
    top,
    width: Math.min(TILE_SIDE_PX, width - left),
    height: Math.min(TILE_SIDE_PX, height - top),
  }
  const raw = { width: region.width, height: region.height, channels: 3 as const }
  const sharp = await loadSharp({ threads: 1 })
  if (level === 0) {
    const { data } = (await held.whole()).colours(region)
    const bytes = await sharp(data, { raw }).png({ compressionLevel: 1 }).toBuffer()
    return { kind: 'bytes', type: 'image/png', bytes }
  }
  const picture = await held.level(level)
  const data = Buffer.alloc(raw.width * raw.height * 3)
  for (let row = 0; row < raw.height; row++) {
    const from = ((top + row) * width + left) * 3
    picture.data.copy(data, row * raw.width * 3, from, from + raw.width * 3)
  }
  const bytes = await sharp(data, { raw }).jpeg({ quality: 88 }).toBuffer()
  return { kind: 'bytes', type: 'image/jpeg', bytes }
}
