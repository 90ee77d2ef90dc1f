import sharp from 'sharp'
import type { ByteImage, CodeImage } from './codeImage.js'

/** The bytes of a JPEG file of a whole picture at `quality` 1..100, colour at half resolution as recorders write it. */
export async function encodeJpeg(image: CodeImage | ByteImage, quality: number): Promise<Buffer> {
  const { width, height, channels } = image
  return sharp(wholeCodes(image.data), { raw: { width, height, channels } })
    .toColourspace(channels === 1 ? 'b-w' : 'srgb')
    .jpeg({ quality, chromaSubsampling: '4:2:0' })
    .toBuffer()
}

/** Code values rounded to whole ones. */
export function wholeCodes(data: Float32Array | Uint8ClampedArray): Uint8ClampedArray {
  return data instanceof Uint8ClampedArray ? data : new Uint8ClampedArray(data)
}
