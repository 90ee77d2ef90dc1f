// What becomes of fitting plates: 520 x 111 mm, own characters, no border, a dark rim of 3 mm or a line inset by 4 mm, a dark band of 44 mm at the left in 2 of 5, before dark or
// mid-grey ground, by day (noise 2) or at night (8), blur 0.7 to 1.6 px, JPEG 75 to 95, 12 to 60 px high (even in its logarithm), four clicks of 1 px. The border is stated, or not.
// Arguments: plates a class (25), then the seed (1).
import { type Random, seededRandom } from '../src/math/random.js'
import type { PlateBorder, RectangleReference } from '../src/measure/reference/reference.js'
import { snapCorners } from '../src/measure/snap/snapCorners.js'
import { PLATE } from '../tests/measure/boardReference.js'
import { type OutlineScene, photographOutline, plateScene, rimLine } from '../tests/measure/outlineScene.js'
import { clicked } from '../tests/measure/renderedBoard.js'
import { snappedDensity } from '../tests/measure/snappedDensity.js'
import { stillOf } from '../tests/measure/stillOfRaster.js'

const perClass = Number(process.argv[2] ?? 25)
const seed = Number(process.argv[3] ?? 1)

const BORDERS = {
  none: { kind: 'none' },
  rim: { kind: 'rim', widthM: 0.003 },
  inset: { kind: 'inset', insetM: 0.004 },
} as const satisfies Record<string, PlateBorder>
type BorderName = keyof typeof BORDERS
const GROUNDS = { dark: 0.04, grey: 0.18 } as const
const LIGHTS = { day: 2, night: 8 } as const
const HEIGHTS = [
  [12, 24],
  [24, 60],
] as const
const [WIDTH_MM, HEIGHT_MM, BAND_MM] = [520, 111, 44]

interface PlateClass {
  readonly border: BorderName
  readonly stated: boolean
  readonly ground: keyof typeof GROUNDS
  readonly light: keyof typeof LIGHTS
  readonly heights: readonly [number, number]
}

/** What became of the plates of a class. */
interface Tally {
  asked: number
  served: number
  held: number
  doubted: number
  missedTold: number
  missedUntold: number
  two: number
  readonly widths: number[]
  readonly refused: Map<string, number>
}

function sceneOf({ border, ground, heights: [low, high] }: PlateClass, random: Random): OutlineScene {
  const heightPx = low * (high / low) ** random.uniform()
  const widthPx = (heightPx * WIDTH_MM) / HEIGHT_MM
  const plain = plateScene(widthPx, random, GROUNDS[ground])
  const inMm = widthPx / WIDTH_MM
  const lines = border === 'none' ? [] : rimLine(widthPx, border === 'rim' ? 0 : 4, 3)
  const inner = border === 'none' ? 0 : border === 'rim' ? 3 : 7
  const band = {
    left: -widthPx / 2 + inner * inMm,
    top: (-HEIGHT_MM / 2 + inner) * inMm,
    right: -widthPx / 2 + BAND_MM * inMm,
    bottom: (HEIGHT_MM / 2 - inner) * inMm,
    level: 0.05,
  }
  const hasBand = random.uniform() < 0.4
  const parts = hasBand ? plain.parts!.filter(({ left }) => left > band.right) : plain.parts!
  return {
    ...plain,
    blurPx: 0.7 + 0.9 * random.uniform(),
    parts: [...parts, ...lines, ...(hasBand ? [band] : [])],
  }
}

async function tryPlate(one: PlateClass, random: Random, tally: Tally): Promise<void> {
  const scene = sceneOf(one, random)
  const camera = { noiseCode: LIGHTS[one.light], quality: Math.round(75 + 20 * random.uniform()) }
  const { raster, corners } = await photographOutline(scene, camera, random)
  const reference: RectangleReference = { ...PLATE, ...(one.stated ? { border: BORDERS[one.border] } : {}) }
  const snap = await snapCorners(stillOf(raster), reference, clicked(corners, random, 1), { clickSigmaPx: 1 })
  tally.asked += 1
  if (!snap.ok) {
    tally.refused.set(snap.code, (tally.refused.get(snap.code) ?? 0) + 1)
    return
  }
  const { doubts } = snap.value
  const { density, holds } = snappedDensity(reference, snap.value, scene.widthPx / (WIDTH_MM / 1000))
  tally.served += 1
  tally.widths.push(density.verticalU! / density.vertical!)
  if (doubts.some((doubt) => doubt.corners !== undefined)) tally.two += 1
  if (doubts.length > 0) tally.doubted += 1
  if (holds) tally.held += 1
  else if (doubts.some(({ code }) => code !== 'snap-border-unknown')) tally.missedTold += 1
  else tally.missedUntold += 1
}

const middle = (values: readonly number[]): string =>
  values.length === 0 ? '' : `${(100 * [...values].sort((a, b) => a - b)[values.length >> 1]!).toFixed(1)} %`

const random = seededRandom(seed)
console.log(
  '| border | stated | ground | light | height, px | plates | served | hold | miss, told | miss, untold | two outlines | U of height | refused most |',
)
console.log('|---|---|---|---|---|---|---|---|---|---|---|---|---|')
const totals = new Map<string, Tally>()
const fresh = (): Tally => ({
  asked: 0,
  served: 0,
  held: 0,
  doubted: 0,
  missedTold: 0,
  missedUntold: 0,
  two: 0,
  widths: [],
  refused: new Map(),
})
for (const border of Object.keys(BORDERS) as BorderName[])
  for (const stated of [true, false])
    for (const ground of Object.keys(GROUNDS) as (keyof typeof GROUNDS)[])
      for (const light of Object.keys(LIGHTS) as (keyof typeof LIGHTS)[])
        for (const heights of HEIGHTS) {
          const one = { border, stated, ground, light, heights }
          const tally = fresh()
          for (let plate = 0; plate < perClass; plate += 1) await tryPlate(one, random, tally)
          row([border, stated ? 'yes' : 'no', ground, light, heights.join(' to ')], tally)
          const key = `${border}, ${stated ? 'stated' : 'not stated'}`
          const total = totals.get(key) ?? fresh()
          add(total, tally)
          totals.set(key, total)
        }
for (const [key, total] of totals) row([key, '', '', '', 'all'], total)

function row(head: readonly string[], tally: Tally): void {
  const most = [...tally.refused].sort((a, b) => b[1] - a[1]).slice(0, 2)
  const cells = [tally.asked, tally.served, tally.held, tally.missedTold, tally.missedUntold, tally.two]
  console.log(
    `| ${[...head, ...cells, middle(tally.widths), most.map(([code, count]) => `${code} ${count}`).join(', ')].join(' | ')} |`,
  )
}

function add(total: Tally, more: Tally): void {
  for (const key of ['asked', 'served', 'held', 'doubted', 'missedTold', 'missedUntold', 'two'] as const)
    total[key] += more[key]
  total.widths.push(...more.widths)
  for (const [code, count] of more.refused) total.refused.set(code, (total.refused.get(code) ?? 0) + count)
}
