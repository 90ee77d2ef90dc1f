import { deflateSync } from 'node:zlib'

/** A grey ICC profile (version 2) whose tone curve is the power `gamma`: ICC.1:2001-04, sections 6.1, 6.3.1.2 and 6.5.3. */
export function greyProfile(gamma: number): Buffer {
  const curve = Buffer.alloc(16)
  curve.write('curv', 0, 'latin1')
  curve.writeUInt32BE(1, 8)
  curve.writeUInt16BE(Math.round(gamma * 256), 12)
  const white = Buffer.alloc(20)
  white.write('XYZ ', 0, 'latin1')
  for (const [index, value] of [0.9642, 1, 0.8249].entries())
    white.writeInt32BE(Math.round(value * 65536), 8 + 4 * index)
  const text = Buffer.alloc(112)
  text.write('desc', 0, 'latin1')
  text.writeUInt32BE(9, 8)
  text.write('test grey', 12, 'latin1')
  const rights = Buffer.alloc(16)
  rights.write('text\0\0\0\0free', 0, 'latin1')
  const tags: [string, Buffer][] = [
    ['desc', text],
    ['cprt', rights],
    ['wtpt', white],
    ['kTRC', curve],
  ]
  const head = Buffer.alloc(128 + 4 + 12 * tags.length)
  head.writeUInt32BE(0x02100000, 8)
  head.write('mntrGRAYXYZ ', 12, 'latin1')
  head.write('acsp', 36, 'latin1')
  for (const [index, value] of [0.9642, 1, 0.8249].entries())
    head.writeInt32BE(Math.round(value * 65536), 68 + 4 * index)
  head.writeUInt32BE(tags.length, 128)
  let at = head.length
  for (const [index, [name, data]] of tags.entries()) {
    head.write(name, 132 + 12 * index, 'latin1')
    head.writeUInt32BE(at, 136 + 12 * index)
    head.writeUInt32BE(data.length, 140 + 12 * index)
    at += data.length
  }
  const profile = Buffer.concat([head, ...tags.map(([, data]) => data)])
  profile.writeUInt32BE(profile.length, 0)
  return profile
}

/** What an even grey PNG holds; 16 x 16 px unless told otherwise. */
interface GreyPng {
  readonly code: number
  readonly opacity?: number
  readonly profile?: Buffer
  readonly width?: number
  readonly height?: number
}

/** An even grey PNG written by hand, for what encoders will not write: profiles, opacity, sides of any length. ISO/IEC 15948. */
export function greyPng({ code, opacity, profile, width = 16, height = 16 }: GreyPng): Buffer {
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width, 0)
  head.writeUInt32BE(height, 4)
  head.writeUInt8(8, 8)
  head.writeUInt8(opacity === undefined ? 0 : 4, 9)
  const pixel = opacity === undefined ? [code] : [code, opacity]
  const row = Buffer.concat([Buffer.from([0]), Buffer.alloc(width * pixel.length, Buffer.from(pixel))])
  const rows = deflateSync(Buffer.concat(Array.from({ length: height }, () => row)))
  const named = profile && Buffer.concat([Buffer.from('grey\0\0', 'latin1'), deflateSync(profile)])
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', head),
    ...(named === undefined ? [] : [chunk('iCCP', named)]),
    chunk('IDAT', rows),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function chunk(name: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data])
  const length = Buffer.alloc(4)
  length.writeUInt32BE(data.length)
  const check = Buffer.alloc(4)
  check.writeUInt32BE(checkOf(body))
  return Buffer.concat([length, body, check])
}

/** The cyclic redundancy check of PNG chunks: ISO/IEC 15948, annex D. */
function checkOf(body: Buffer): number {
  let rest = 0xffffffff
  for (const byte of body) {
    rest ^= byte
    for (let bit = 0; bit < 8; bit++) rest = rest & 1 ? (rest >>> 1) ^ 0xedb88320 : rest >>> 1
  }
  return (rest ^ 0xffffffff) >>> 0
}
