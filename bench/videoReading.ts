import { fitReadings, intervalOf, type CardRead } from '../src/trial/fitReadings.js'
import { distanceWhere } from '../src/trial/readingCurve.js'
import { gaussianPixelCrossing } from '../src/simulate/camera/gaussianPixelResponse.js'
import { clipsOf, codedStills } from './video/codedStills.js'
import { measureVideo, type StillRow } from './video/measureVideo.js'
import { SETTINGS } from './video/settings.js'
import { drawWalker } from './video/walker.js'

// At which density, detail, A and k a matched filter reads 95 % of characters in stills that went through codec and noise reduction, beside the limits the grading sets, so
// that 0.4 cycles per pixel, A and k stand beside what they predict. Every figure is counted per stroke, so that both sizes of characters tell one number. The curve is that of
// the reading trial in the reciprocal of the figure; intervals by other walkers and other settings. Arguments: walkers (4), then families or words of settings as in video.

const given = process.argv.slice(2)
const [walkers = '4', ...only] = given
const families = ['raw by day', 'raw at night', 'coded by day', 'coded at dusk', 'coded at night', 'denoised']
const settings = SETTINGS.filter(
  ({ keptAside = false, family, name }) =>
    !keptAside &&
    families.includes(family) &&
    (only.length === 0 || only.some((word) => family === word || name.includes(word))),
)

/** The bench's characters, as they are in each row's `read`: which strip's k is of their stroke, and how many there are. */
interface Characters {
  readonly strokeM: number
  readonly isFull: boolean
  readonly kOf: 0 | 1
  readonly asked: number
}
interface Still extends StillRow {
  readonly f10CyclesPerM: number | null
  readonly cards: readonly Characters[]
}

const stills: Still[] = []
for (let seed = 0; seed < Number(walkers); seed += 1) {
  const walker = drawWalker(seed)
  const clips = clipsOf(walker)
  const crossing = gaussianPixelCrossing(walker.blurPx, 0.1)
  const cards = walker.cards.map(({ card }): Characters => {
    const { strokeM, contrast, characters } = card
    return { strokeM, isFull: contrast > 0.5, kOf: strokeM > 0.01 ? 0 : 1, asked: characters.length }
  })
  for (const setting of settings)
    for (const still of await codedStills(walker, setting, clips)) {
      const row = await measureVideo(walker, setting, still)
      const { f10 } = row.chart
      stills.push({ ...row, cards, f10CyclesPerM: f10 === null ? null : f10 * crossing * row.densityPxPerM })
    }
}

/** The alphabet of the bench's characters. */
const GUESS = 1 / 31
/** A figure per stroke, its limit, and how it is told of a still; null where it is not. */
const FIGURES = [
  {
    name: 'px a stroke',
    limit: '2 (a grade at its own limit)',
    of: ({ densityPxPerM }: Still, { strokeM }: Characters) => densityPxPerM * strokeM,
  },
  {
    name: 'cycles of f10 a stroke',
    limit: '0.8 (0.4 cycles per px)',
    of: ({ f10CyclesPerM }: Still, { strokeM }: Characters) =>
      f10CyclesPerM === null ? null : f10CyclesPerM * strokeM,
  },
  {
    name: 'A times the stroke',
    limit: '0.2',
    of: ({ chart }: Still, { strokeM }: Characters) =>
      chart.strips === null ? null : chart.strips.a * strokeM,
  },
  {
    name: 'k of the stroke (strips)',
    limit: '2.2',
    of: ({ chart }: Still, { kOf }: Characters) => chart.strips?.k[kOf] ?? null,
  },
] as const
const isByDay = ({ setting }: Still): boolean => setting.startsWith('day')
const GROUPS = [
  { name: 'by day', holds: isByDay },
  { name: 'at dusk, at night', holds: (still: Still) => !isByDay(still) },
  { name: 'all', holds: () => true },
] as const

console.log(
  `${stills.length} stills of ${walkers} walkers, settings: ${settings.map(({ name }) => name).join('; ')}\n`,
)
console.log(
  `${'figure'.padEnd(26)}${'characters'.padEnd(12)}${'light'.padEnd(20)}${'cards'.padStart(6)}${'95 % read at'.padStart(26)}   limit`,
)
for (const { name, limit, of } of FIGURES)
  for (const isFull of [false, true])
    for (const group of GROUPS) {
      const reads = stills.filter(group.holds).flatMap((still) =>
        still.cards.flatMap((card, index): CardRead[] => {
          const figure = of(still, card)
          if (card.isFull !== isFull || figure === null || !(figure > 0)) return []
          const right = Math.round(still.read[index]! * card.asked)
          return [
            {
              reader: `${still.walker}`,
              card: still.setting,
              distanceM: 1 / figure,
              right,
              asked: card.asked,
            },
          ]
        }),
      )
      const fit = fitReadings(reads, GUESS)
      const reached = (): string => {
        if (fit === null) return 'not told'
        const { low, high } = intervalOf(fit, (curve) => -Math.log(distanceWhere(curve, 0.95)))
        return `${(1 / distanceWhere(fit.curve, 0.95)).toFixed(2)} (${Math.exp(low).toFixed(2)} to ${Math.exp(high).toFixed(2)})`
      }
      console.log(
        `${name.padEnd(26)}${(isFull ? 'black' : '24 %').padEnd(12)}${group.name.padEnd(20)}${String(reads.length).padStart(6)}${reached().padStart(26)}   ${limit}`,
      )
    }
