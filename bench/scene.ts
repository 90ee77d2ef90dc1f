// How well stills are registered: simulated sites that the demonstration does not use, day, infrared and a lamp, walkers, wind, captions, noise, JPEG or a starved H.264 clip.
// Arguments: how many sites (30), "jpeg" for no video (ffmpeg is asked for else).
import sharp from 'sharp'
import { median } from '../src/math/median.js'
import { seededRandom } from '../src/math/random.js'
import { registerStills, type Registration } from '../src/scene/registerStills.js'
import { scenePicture } from '../src/scene/scenePicture.js'
import { matchesOf, type SceneWay, type ShownParts, WAY_WIDTH } from '../src/scene/sceneWays.js'
import type { PixelRegion } from '../src/still/raster.js'
import { isTurned } from '../src/scene/toldMotion.js'
import {
  type SiteKind,
  type SiteLight,
  type SitePose,
  type SiteShot,
  isScaled,
  SceneSite,
} from '../tests/support/sceneSite.js'
import { type BenchStill, exported } from './video/siteStills.js'

const [WIDTH, HEIGHT] = [960, 540]
const KINDS: readonly SiteKind[] = ['houses', 'bricks', 'fence', 'foliage']
const LENSES = [
  [500, -0.5],
  [950, 1],
  [1600, 1],
] as const
const CODINGS = [0, 0, 2, 0, 1] as const
/** What came of a pair: the truth's errors in degrees and as a share, and what was said. */
interface Row {
  readonly set: string
  readonly truth: string
  readonly site: number
  readonly told: boolean
  readonly turned: boolean
  readonly scaled: boolean
  readonly otherView: boolean
  readonly turnError: number
  readonly turnCovered: boolean
  readonly scaleError: number
  readonly scaleCovered: boolean
  readonly cpuMs: number
}

const sites = Number(process.argv[2] ?? 30)
const isVideo = process.argv[3] !== 'jpeg'
const rows: Row[] = []
const reducedMs: number[] = []
let done = 0
// Ended early, it prints what it has.
process.once('SIGTERM', () => {
  report()
  process.exit(0)
})
for (let site = 1; site <= sites; site++) {
  const began = performance.now()
  await benchSite(site)
  done++
  console.error(`site ${site} of ${sites}: ${((performance.now() - began) / 1000).toFixed(0)} s`)
}
report()

async function benchSite(number: number): Promise<void> {
  const kind = KINDS[number % KINDS.length]!
  const [perRadian, p] = LENSES[number % LENSES.length]!
  const site = new SceneSite(number, kind, WIDTH, HEIGHT, perRadian, p)
  const random = seededRandom(number)
  let seed = 0
  const shot = (light: SiteLight, pose: SitePose = {}): SiteShot => ({
    light,
    seed: ++seed,
    walker: random.uniform() < 0.15 ? 0 : 0.18 + 0.57 * random.uniform(),
    roll: 0.01 * random.normal() * (pose.pan === undefined ? 0 : 1),
    ...pose,
  })
  const turn = (degrees: number): SitePose => {
    const way = 2 * Math.PI * random.uniform()
    return { pan: degrees * Math.cos(way), tilt: degrees * Math.sin(way) }
  }
  const many = (count: number, make: () => SiteShot): SiteShot[] => Array.from({ length: count }, make)
  const mbit = isVideo ? CODINGS[number % CODINGS.length]! : 0
  const export_ = (named: readonly (readonly [string, SiteShot])[]): Promise<BenchStill[]> =>
    exported(site, named, mbit)
  const names = (name: string, shots: readonly SiteShot[]) => shots.map((one) => [name, one] as const)
  const day = await export_([
    ...names(
      'unchanged',
      many(7, () => shot('day')),
    ),
    ...names(
      '0.03 deg',
      many(2, () => shot('day', turn(0.03))),
    ),
    ...names(
      '0.1 deg',
      many(1, () => shot('day', turn(0.1))),
    ),
    ...names(
      '0.5 deg',
      many(1, () => shot('day', turn(0.5))),
    ),
    ...names(
      '0.3 %',
      many(2, () => shot('day', { zoom: 1 + 0.003 * (random.uniform() < 0.5 ? 1 : -1) })),
    ),
    ...names(
      '1 %',
      many(1, () => shot('day', { zoom: 1 + 0.01 * (random.uniform() < 0.5 ? 1 : -1) })),
    ),
  ])
  const infrared = await export_([
    ...names(
      'unchanged',
      many(4, () => shot('infrared')),
    ),
    ...names(
      '0.03 deg',
      many(1, () => shot('infrared', turn(0.03))),
    ),
    ...names(
      '0.3 %',
      many(1, () => shot('infrared', { zoom: 1.003 })),
    ),
    ...names(
      '0.1 deg',
      many(2, () => shot('infrared', turn(0.1))),
    ),
    ...names(
      '1 %',
      many(2, () => shot('infrared', { zoom: 1 + 0.01 * (random.uniform() < 0.5 ? 1 : -1) })),
    ),
  ])
  const lamp = await export_([
    ...names(
      'unchanged',
      many(2, () => shot('lamp')),
    ),
    ...names(
      '0.1 deg',
      many(1, () => shot('lamp', turn(0.1))),
    ),
    ...names(
      '1 %',
      many(1, () => shot('lamp', { zoom: 1.01 })),
    ),
  ])
  const register = async (set: string, one: BenchStill, other: BenchStill, within: 'inside' | 'between') =>
    void rows.push(await rowOf(set, number, site, one, other, within))
  for (const light of [day, infrared]) {
    const [first, ...others] = light
    for (const other of others) await register('inside', first!, other, 'inside')
    const still = others.filter(({ name }) => name === 'unchanged')
    for (const [index, one] of still.entries())
      for (const other of still.slice(index + 1)) await register('inside', one, other, 'inside')
  }
  for (const other of infrared) await register('day, infrared', day[0]!, other, 'between')
  for (const other of lamp) await register('day, lamp', day[0]!, other, 'between')
  for (const zoom of [1.1, 1.25, 1.5, 2])
    await register('enlarged', day[0]!, await enlarged(day[1]!, zoom, random.uniform()), 'inside')
  const elsewhere = new SceneSite(500 + number, kind, WIDTH, HEIGHT, perRadian, p)
  for (const other of await exported(
    elsewhere,
    names(
      'another camera',
      many(2, () => shot('day')),
    ),
    0,
  ))
    await register('another camera', day[0]!, other, 'inside')
}

/** A still enlarged in a viewer about a place near its middle, exported at the same size. */
async function enlarged({ jpeg, shot }: BenchStill, zoom: number, off: number): Promise<BenchStill> {
  const [width, height] = [Math.round(WIDTH / zoom), Math.round(HEIGHT / zoom)]
  const left = Math.round((WIDTH - width) * (0.4 + 0.2 * off))
  const top = Math.round((HEIGHT - height) * (0.4 + 0.2 * off))
  const large = await sharp(jpeg)
    .extract({ left, top, width, height })
    .resize(WIDTH, HEIGHT, { fit: 'fill', kernel: 'cubic' })
    .jpeg({ quality: 90 })
    .toBuffer()
  return { name: `${zoom} times`, shot: { ...shot, zoom: WIDTH / width }, jpeg: large }
}

async function rowOf(
  set: string,
  site: number,
  { lens }: SceneSite,
  one: BenchStill,
  other: BenchStill,
  within: 'inside' | 'between',
): Promise<Row> {
  const began = process.cpuUsage()
  const stills = [fileOf(one.jpeg), fileOf(other.jpeg)] as const
  const picture = (index: 0 | 1, way: SceneWay, parts: ShownParts) =>
    scenePicture(stills[index], WAY_WIDTH[way], parts[index])
  const { motion, isOtherView }: Registration = await registerStills(
    async (way, parts) => matchesOf(way, await picture(0, way, parts), await picture(1, way, parts)),
    within,
    lens,
    { width: WIDTH, height: HEIGHT },
  )
  const { user, system } = process.cpuUsage(began)
  const [a, b] = [one.shot, other.shot]
  const pan = (b.pan ?? 0) - (a.pan ?? 0)
  const tilt = (b.tilt ?? 0) - (a.tilt ?? 0)
  const scale = (b.zoom ?? 1) / (a.zoom ?? 1)
  const turnError = motion === null ? NaN : Math.hypot(motion.turn!.pan - pan, motion.turn!.tilt - tilt)
  const scaleError = motion === null ? NaN : Math.abs(motion.scale - scale)
  return {
    set,
    truth: other.name,
    site,
    told: motion !== null,
    turned: motion !== null && isTurned(motion),
    scaled: motion !== null && isScaled(motion),
    otherView: isOtherView,
    turnError,
    turnCovered: motion !== null && turnError <= motion.u.turn,
    scaleError,
    scaleCovered: motion !== null && scaleError <= motion.u.scale,
    cpuMs: (user + system) / 1000,
  }
}

/** As `scenePicture` is handed an opened still. */
function fileOf(jpeg: Buffer) {
  return {
    width: WIDTH,
    height: HEIGHT,
    reduced: async (width: number, height: number, region?: PixelRegion | null): Promise<Buffer> => {
      const began = process.cpuUsage()
      const colours = await (region ? sharp(jpeg).extract(region) : sharp(jpeg))
        .resize(width, height, { fit: 'fill', kernel: 'mitchell' })
        .toColourspace('srgb')
        .raw()
        .toBuffer()
      const { user, system } = process.cpuUsage(began)
      reducedMs.push((user + system) / 1000)
      if (colours.length === 3 * width * height) return colours
      return Buffer.from(
        Uint8Array.from({ length: 3 * width * height }, (_, i) => colours[Math.floor(i / 3)]!),
      )
    },
  }
}

function report(): void {
  const share = (of: readonly Row[], is: (row: Row) => boolean): string =>
    `${of.filter(is).length}/${of.length}`
  const p95 = (values: readonly number[]): string => {
    const sorted = values.filter(Number.isFinite).toSorted((a, b) => a - b)
    return sorted.length === 0
      ? '-'
      : sorted[Math.min(sorted.length - 1, Math.floor(0.95 * sorted.length))]!.toPrecision(2)
  }
  const head = [
    'set',
    'truth',
    'told',
    'turned',
    'scaled',
    'other view',
    'turn p95 deg',
    'covered',
    'scale p95 %',
    'covered',
    'CPU ms',
  ]
  const sets = [...new Set(rows.map(({ set, truth }) => `${set}|${truth}`))]
  const lines = sets.map((key) => {
    const of = rows.filter(({ set, truth }) => `${set}|${truth}` === key)
    const told = of.filter((row) => row.told)
    const [set, truth] = key.split('|') as [string, string]
    const isOne = set !== 'another camera' && set !== 'enlarged'
    return [
      set,
      truth,
      share(of, (row) => row.told),
      share(told, (row) => row.turned),
      share(told, (row) => row.scaled),
      share(of, (row) => row.otherView),
      isOne ? p95(told.map((row) => row.turnError)) : '-',
      isOne ? share(told, (row) => row.turnCovered) : '-',
      set === 'another camera' ? '-' : p95(told.map((row) => 100 * row.scaleError)),
      set === 'another camera' ? '-' : share(told, (row) => row.scaleCovered),
      String(Math.round(median(of.map((row) => row.cpuMs)))),
    ]
  })
  const all = [head, ...lines]
  const widths = head.map((_, i) => Math.max(...all.map((line) => line[i]!.length)))
  console.log(
    `${done} sites, ${WIDTH} x ${HEIGHT} px, ${isVideo ? 'two of five out of H.264 clips of 2 and 1 Mbit/s' : 'JPEG alone'}`,
  )
  for (const line of all)
    console.log(
      line
        .map((cell, i) => cell.padEnd(widths[i]!))
        .join('  ')
        .trimEnd(),
    )
  console.log(`a still reduced: ${median(reducedMs).toFixed(0)} ms of CPU (in the figures above, twice)`)
  const falsely = rows.filter((row) => row.truth === 'unchanged' && row.told && (row.turned || row.scaled))
  for (const row of falsely)
    console.log(
      `falsely: ${row.set}, site ${row.site}: ${row.turned ? `turned ${row.turnError.toPrecision(2)} deg` : ''} ${row.scaled ? `scaled ${(100 * row.scaleError).toPrecision(2)} %` : ''}`,
    )
}
