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

it('tells that the last data of a JPEG are missing where its end is even, as a decoder fills it up', async () => {
  const { width, height } = { width: WIDTH, height: HEIGHT }
  const whole = await sharp({ create: { width, height, channels: 3, background: '#555' } })
    .jpeg()
    .toBuffer()
  const cut = Buffer.concat([whole.subarray(0, whole.length - 12), whole.subarray(whole.length - 2)])
  expect(await toldOf(whole)).toBe('nothing')
  expect(await toldOf(cut)).toBe('still-damaged')
})

it('tells that one number of a JPEG was changed where the light of the rest jumps by it', async () => {
  const whole = await picture().jpeg({ quality: 85 }).toBuffer()
  const data = whole.indexOf(Buffer.from([0xff, 0xda])) + 12
  const lightBelow = async (bytes: Buffer): Promise<number> => {
    const below = { left: 0, top: HEIGHT - 64, width: WIDTH, height: 64 }
    const { channels } = await sharp(
      await sharp(bytes, { failOn: 'none' }).extract(below).png().toBuffer(),
    ).stats()
    return channels[0]!.mean
  }
  const light = await lightBelow(whole)
  const random = seededRandom(8)
  let [jumped, told] = [0, 0]
  for (let n = 0; n < 60; n++) {
    const bytes = Buffer.from(whole)
    const at = data + Math.floor((0.1 + 0.7 * random.uniform()) * (whole.length - data))
    bytes[at]! ^= 1 << Math.floor(8 * random.uniform())
    const isDecoded = await sharp(bytes, { failOn: 'warning' })
      .raw()
      .toBuffer()
      .then(
        () => true,
        () => false,
      )
    if (!isDecoded || Math.abs((await lightBelow(bytes)) - light) < 6) continue
    jumped++
    if ((await toldOf(bytes)) === 'still-damaged') told++
  }
  console.log(`${told} of ${jumped} jumps told`)
  expect(jumped).toBeGreaterThan(5)
  expect(told).toBeGreaterThan(0.5 * jumped)
})
