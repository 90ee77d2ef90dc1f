import sharp from 'sharp'
import type { CodeImage } from './codeImage.js'

/** The bytes of a JPEG file of a whole picture at `quality` 1..100, colour at half resolution as recorders write it. */
export async function encodeJpeg(image: CodeImage, quality: number): Promise<Buffer> {
  const bytes = wholeCodes(image)
  return sharp(bytes, { raw: { width: image.width, height: image.height, channels: image.channels } })
    .toColourspace(image.channels === 1 ? 'b-w' : 'srgb')
    .jpeg({ quality, chromaSubsampling: '4:2:0' })
    .toBuffer()
}

/** Code values rounded to whole ones. */
export function wholeCodes(image: CodeImage): Uint8ClampedArray {
  return new Uint8ClampedArray(image.data)
}
