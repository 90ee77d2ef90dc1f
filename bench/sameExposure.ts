// Whether one exposure encoded again, cut out, or the next frame of its clip is told from two exposures by its noise: simulated sites by day and infrared, and frames of a real
// fixed camera some seconds apart (opencv's vtest.avi in Debian's opencv-doc). Where references stand is left out of it, which in a walk has to agree too.
// Arguments: how many sites (20), "jpeg" for no video (ffmpeg is asked for else).
import { execFileSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import sharp from 'sharp'
import { leastNoiseShare, SAME_NOISE } from '../src/measure/export/sameNoise.js'
import { seededRandom } from '../src/math/random.js'
import type { Raster } from '../src/still/raster.js'
import { type GreyPicture, type SiteKind, type SiteLight, SceneSite } from '../tests/support/sceneSite.js'
import { jpegOf, throughClip } from './video/siteStills.js'

const [WIDTH, HEIGHT] = [960, 540]
const KINDS: readonly SiteKind[] = ['houses', 'bricks', 'fence', 'foliage']
const STILLS = 7
const VIDEO = '/usr/share/doc/opencv-doc/examples/data/vtest.avi'
const [VIDEO_WIDTH, VIDEO_HEIGHT, VIDEO_EVERY] = [768, 576, 30]
/** Frames from one whole picture of it to the next, as ffprobe says: 25 s. */
const VIDEO_GROUP = 250

interface Counted {
  pairs: number
  one: number
  untold: number
  least: number
  most: number
}
const sets = new Map<string, Counted>()

const sites = Number(process.argv[2] ?? 20)
const isVideo = process.argv[3] !== 'jpeg'
for (let number = 1; number <= sites; number++) {
  await benchSite(number)
  console.error(`site ${number} of ${sites}`)
}
if (isVideo && existsSync(VIDEO)) honest(ofGroups, framesOfVideo())
report()

async function benchSite(number: number): Promise<void> {
  const site = new SceneSite(number, KINDS[number % KINDS.length]!, WIDTH, HEIGHT, 950, 1)
  const random = seededRandom(number)
  for (const light of ['day', 'infrared'] as const satisfies readonly SiteLight[]) {
    const pictures = Array.from({ length: STILLS }, (_, i) =>
      site.shoot({ light, seed: i + 1, walker: 0.2 + 0.4 * random.uniform() }),
    )
    const jpegs = await Promise.all(pictures.map(jpegOf))
    const stills = await Promise.all(jpegs.map((jpeg) => decoded(jpeg)))
    honest(`${light}, two exposures`, stills)
    const [first, ...others] = stills
    const thirds = others.slice(0, 3)
    for (const quality of [95, 85, 80, 70, 60]) {
      const again = await decoded(await sharp(jpegs[0]).jpeg({ quality }).toBuffer())
      count(`${light}, encoded again at ${quality}`, first!, again, [0, 0], thirds)
    }
    const cut = { left: 43, top: 21, width: 860, height: 484 }
    const part = await decoded(await sharp(jpegs[0]).extract(cut).jpeg({ quality: 85 }).toBuffer())
    count(`${light}, cut out, encoded at 85`, first!, part, [cut.left, cut.top], thirds)
    if (isVideo) for (const mbit of [8, 2]) await benchClip(`${light}, ${mbit} Mbit/s`, pictures, mbit)
  }
}

/** Of each exposure a still out of a clip, as others are; against each other, and the first against frames of its own group. */
async function benchClip(set: string, pictures: readonly GreyPicture[], mbit: number): Promise<void> {
  const at = async (frame: number): Promise<Raster[]> => {
    const seen = await throughClip(pictures, mbit, frame)
    return Promise.all(seen.map(async (picture) => decoded(await jpegOf(picture))))
  }
  const stills = await at(8)
  honest(`${set}, two exposures`, stills)
  for (const frame of [7, 3]) {
    const [earlier] = await at(frame)
    count(`${set}, ${8 - frame} frames apart`, stills[0]!, earlier!, [0, 0], stills.slice(1, 4))
  }
}

/** Frames of one group of pictures repeat the pixels of what stands still, so they are told apart from those of two. */
function ofGroups(i: number, j: number): string {
  const group = (still: number): number => Math.floor((still * VIDEO_EVERY) / VIDEO_GROUP)
  return `real video, of ${group(i) === group(j) ? 'one group' : 'two groups'}`
}

function honest(set: string | ((i: number, j: number) => string), stills: readonly Raster[]): void {
  for (const [i, one] of stills.entries())
    for (const [j, other] of stills.entries())
      if (j > i)
        count(
          typeof set === 'string' ? set : set(i, j),
          one,
          other,
          [0, 0],
          stills.filter((_, k) => k !== i && k !== j).slice(0, 3),
        )
}

/** As in a walk: all thirds must tell. */
function count(
  set: string,
  one: Raster,
  other: Raster,
  shift: readonly [number, number],
  thirds: readonly Raster[],
): void {
  const shares = thirds.flatMap((third) => leastNoiseShare(one, other, shift, third) ?? [])
  const counted = sets.get(set) ?? { pairs: 0, one: 0, untold: 0, least: Infinity, most: 0 }
  sets.set(set, counted)
  counted.pairs++
  if (shares.length === 0) return void counted.untold++
  const most = Math.max(...shares)
  if (most < SAME_NOISE) counted.one++
  counted.least = Math.min(counted.least, most)
  counted.most = Math.max(counted.most, most)
}

async function decoded(jpeg: Buffer): Promise<Raster> {
  const { data, info } = await sharp(jpeg).greyscale().raw().toBuffer({ resolveWithObject: true })
  return rasterOf({ width: info.width, height: info.height, data })
}

function rasterOf({ width, height, data }: GreyPicture): Raster {
  return { left: 0, top: 0, width, height, data: Float32Array.from(data) }
}

function framesOfVideo(): Raster[] {
  const take = ['-vf', `select=not(mod(n\\,${VIDEO_EVERY})),format=gray`, '-fps_mode', 'passthrough']
  const bytes = execFileSync('ffmpeg', ['-loglevel', 'error', '-i', VIDEO, ...take, '-f', 'rawvideo', '-'], {
    maxBuffer: 1e9,
  })
  const size = VIDEO_WIDTH * VIDEO_HEIGHT
  return Array.from({ length: bytes.length / size }, (_, i) =>
    rasterOf({
      width: VIDEO_WIDTH,
      height: VIDEO_HEIGHT,
      data: bytes.subarray(i * size, (i + 1) * size),
    }),
  )
}

function report(): void {
  console.log(
    `${sites} sites, called one picture under ${SAME_NOISE}; not told where encoding took the noise`,
  )
  const width = Math.max(...[...sets.keys()].map(({ length }) => length))
  console.log(`${'set'.padEnd(width)}  called one  not told  least  most`)
  for (const [set, { pairs, one, untold, least, most }] of sets)
    console.log(
      `${set.padEnd(width)}  ${`${one}/${pairs}`.padEnd(10)}  ${String(untold).padEnd(8)}  ${
        untold === pairs ? '-      -' : `${least.toFixed(2).padEnd(5)}  ${most.toFixed(2)}`
      }`,
    )
}
