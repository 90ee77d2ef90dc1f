import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { openStill } from '../../src/still/openStill.js'

const [WIDTH, HEIGHT] = [640, 480]
const TOP = { left: 0, top: 0, width: 64, height: 48 }
let dir: string
beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'proofwalk-broken-'))
})
afterAll(() => rm(dir, { recursive: true }))

function picture() {
  const random = seededRandom(5)
  const data = Buffer.alloc(WIDTH * HEIGHT)
  data.forEach((_, at) => {
    const [x, y] = [at % WIDTH, Math.floor(at / WIDTH)]
    data[at] = 120 + 60 * Math.sin(x / 37) * Math.cos(y / 23) + 12 * random.uniform()
  })
  return sharp(data, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } })
}

/** What a region at the top of the file says: nothing, or the code of its fault. */
async function toldOf(bytes: Buffer): Promise<string> {
  const path = join(dir, 'still')
  await writeFile(path, bytes)
  const still = await openStill(path)
  if (!still.ok) return still.code
  return still.value.region(TOP).then(
    () => 'nothing',
    (error: { code: string }) => error.code,
  )
}

/** Pieces that end at so many shares of the bytes from `from` on. */
const cuts = (bytes: Buffer, from: number): Buffer[] =>
  [0.3, 0.5, 0.7, 0.9].map((share) => bytes.subarray(0, from + Math.floor(share * (bytes.length - from))))

it.each(['baseline', 'progressive'])(
  'tells that data are missing before an end mark that was put back: %s JPEG',
  async (way) => {
    const whole = await picture()
      .jpeg({ quality: 85, progressive: way === 'progressive' })
      .toBuffer()
    const data = whole.indexOf(Buffer.from([0xff, 0xda]))
    expect(await toldOf(whole)).toBe('nothing')
    for (const piece of cuts(whole, data))
      expect(await toldOf(Buffer.concat([piece, Buffer.from([0xff, 0xd9])]))).toBe('still-damaged')
  },
)

it('tells that data of a PNG are missing before its end', async () => {
  const whole = await picture().png().toBuffer()
  expect(await toldOf(whole)).toBe('nothing')
  for (const piece of cuts(whole, 100)) {
    const mended = Buffer.concat([piece, whole.subarray(whole.length - 12)])
    // The data chunk says again how long it is: only what it holds is missing.
    const at = mended.indexOf('IDAT')
    mended.writeUInt32BE(mended.length - 12 - (at + 4) - 4, at - 4)
    expect(await toldOf(mended)).toBe('still-damaged')
  }
})
