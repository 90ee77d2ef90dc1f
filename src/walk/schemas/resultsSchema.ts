import * as z from 'zod'
import { measuredWalk } from './measuredWalkSchema.js'
import {
  addedNumber,
  addedWords,
  basis,
  estimate,
  group,
  maybeBound,
  nullable,
  number,
  numbers,
  sha256,
  verdict,
  words,
} from './resultsParts.js'
import { failedEntrySchema, stillEntrySchema, gradeId } from './stillEntrySchema.js'

const mark = group({
  light: z.string(),
  reference: z.string(),
  distance: number,
  lineOfSight: number,
  stills: number,
  density: estimate,
  effectiveDensity: maybeBound.nullable().describe('low is null where it is an upper bound'),
  resolved: maybeBound
    .nullable()
    .default(null)
    .describe('detail on the reference, cycles per metre; low is null where it is an upper bound'),
  detailFrom: addedWords.describe('the reference its detail was taken from; null where it is its own'),
  grade: gradeId,
  gradeByPixels: gradeId,
  usable: z.boolean().nullable(),
  why: z.string(),
  leftOut: z.boolean(),
})

const range = group({
  light: z.string(),
  reference: z.string(),
  grade: z.string(),
  basis,
  from: nullable,
  distance: nullable,
  low: nullable,
  high: nullable,
  kind: z.enum(['fitted', 'bracketed', 'extrapolated', 'too-few', 'none']),
  lentBy: z
    .string()
    .optional()
    .describe(
      'the light whose constant it rests on, where the scene is as large in both and that one knows it better',
    ),
})

const lens = group({
  light: z.string(),
  reference: z.string(),
  pixelsPerRadian: estimate,
  offsetM: number,
  suspect: group({ distance: number, fits: number }).nullable(),
  promised: group({ rectilinear: nullable, asRead: nullable }).nullable(),
})

const projection = group({
  p: number,
  low: number,
  high: number,
  pixelsPerRadian: z.array(group({ light: z.string(), value: number, low: number, high: number })),
  from: z
    .enum(['walk', 'data-sheet'])
    .describe("fitted from the walk's own stills, or the data sheet's, with which they agree"),
  stills: number.describe('how many stills it was fitted to'),
  leftOut: group({ light: z.string(), lineOfSight: number })
    .nullable()
    .describe('the mark that fits none of the others'),
}).describe(
  'the lens that corners went through: its projection p and px per radian in the middle of the picture, 95 %',
)

const promise = group({
  grade: words.describe('null where text is to be read'),
  distance: number,
  light: z.string(),
  reference: z.string().nullable(),
  basis: z.enum([...basis.options, 'reading']),
  verdict,
  byPixels: verdict,
  value: nullable,
  low: nullable,
  high: nullable,
  limit: number,
  onOtherBasis: maybeBound
    .nullable()
    .default(null)
    .describe('with detail where the promise goes by pixels, and the other way round'),
  decidedBy: words.describe('the reference whose figures these are; null where none was measured'),
  why: z.string(),
  mend: addedWords.describe('what whoever walks can do about it; null where nothing is to be done'),
  task: addedWords.describe("the buyer's own words"),
  what: addedWords.describe('what must not be seen'),
  kind: z.enum(['least', 'most', 'read']).default('least').describe('at least, at most, or text read'),
})

const pointing = {
  turn: numbers('pan', 'tilt', 'roll')
    .nullable()
    .describe('degrees to the right, down and clockwise as the camera looks; null where no lens is known'),
  shift: numbers('x', 'y'),
  scale: number.describe('how many times as large the scene is'),
  u: numbers('turn', 'shift', 'scale'),
  matches: number,
}

const sceneStill = group({
  file: z.string(),
  group: number.describe('0 stands as most stills of its light do'),
  turn: pointing.turn,
  shift: pointing.shift.nullable().describe('null, as all else, where the still shows another view'),
  scale: nullable,
  u: pointing.u.nullable(),
  matches: number.describe('0 of the still that the others of its light are held against'),
})

const scene = group({
  stills: z.array(sceneStill),
  lights: z.array(group({ light: z.string(), against: z.string(), ...pointing })),
}).describe(
  'how the camera stood from still to still and from light to light: turned by degrees where a lens is known, shifted by px',
)

const readDistance = numbers('distance', 'low', 'high').nullable()

const reading = group({
  light: z.string(),
  reference: z.string(),
  row: z
    .enum(['full', 'faint', 'text'])
    .default('full')
    .describe("a letter card's row at full contrast or in grey, or the text of a plate"),
  marks: z
    .array(numbers('distance', 'right', 'asked', 'share', 'low', 'high'))
    .describe('characters right of those asked; low and high of the share, each character taken for itself'),
  readers: z
    .array(
      group({
        reader: z.string(),
        crops: number,
        untold: number.describe('of these "cannot tell"'),
        right: number,
        asked: number,
        share: number,
        low: number,
        high: number,
        steady: nullable.describe('share of characters answered the same where a crop was shown again'),
      }),
    )
    .default([]),
  cards: number.default(0).describe('different texts that were read'),
  walkerRead: z
    .boolean()
    .default(false)
    .describe('who walked was among the readers: the text was not unknown to them'),
  agreement: nullable
    .default(null)
    .describe('share of characters on which two readers of the same crop agree'),
  curve: numbers('guess', 'half', 'steepness')
    .nullable()
    .default(null)
    .describe('share = guess + (0.98 - guess) / (1 + (distance / half)^steepness)'),
  read50: readDistance.describe('where the average over readers and cards falls to half'),
  read95: readDistance,
  reached: group({
    density: estimate.nullable(),
    effectiveDensity: estimate.nullable(),
    resolved: estimate.nullable().describe('cycles per metre'),
    k: estimate.nullable().describe('of the element nearest in size to a stroke of 14 mm'),
  })
    .nullable()
    .default(null)
    .describe('what was measured where 95 % were read, with the interval of that distance'),
  promised: z
    .array(numbers('distance', 'value', 'low', 'high'))
    .default([])
    .describe('the share read at distances at which reading is promised, 95 %'),
})

const measuredGrading = group({
  id: z.string(),
  name: z.string(),
  source: z.string(),
  grades: z.array(group({ id: z.string(), name: z.string(), limit: number, element: number.optional() })),
  leastRoseK: number.optional(),
  fullDetailAt: number.optional(),
})

/** `results.json`: the contract other programs read. Lengths metres, densities px/m, angles degrees, frequencies cycles/px. */
export const resultsSchema = group({
  format: z.literal('proofwalk-results/1'),
  method: z.string().describe('version of the measuring'),
  inputs: group({
    walk: sha256.nullable(),
    picks: sha256.nullable(),
    grading: sha256.nullable(),
    walkPlain: sha256.nullable().default(null).describe('of walk.yaml without its comments'),
    readings: sha256.optional().describe('of readings.json, where there was a reading trial'),
  }),
  walk: measuredWalk,
  grading: measuredGrading,
  stills: z.array(stillEntrySchema),
  marks: z.array(mark),
  ranges: z.array(range),
  triggers: z.array(group({ light: z.string(), farthestTriggered: nullable, nearestNotTriggered: nullable })),
  lens: z.array(lens),
  projection: projection
    .nullable()
    .default(null)
    .describe('null where the lens is not known: corners were read as they lie, the bend being in U'),
  promises: z.array(promise),
  findings: z
    .array(
      group({
        code: z.string(),
        message: z.string(),
        light: addedWords,
        reference: addedWords,
        value: addedNumber,
        low: addedNumber,
        high: addedNumber,
      }),
    )
    .describe('what the reader should know of the walk as a whole'),
  scene: scene.nullable().default(null),
  readings: z.array(reading).default([]).describe('the blind reading trial'),
  unassigned: z.array(group({ file: z.string(), message: z.string() })),
  failed: z.array(failedEntrySchema),
})

export type MeasuredWalk = z.infer<typeof measuredWalk>
export type ProjectionResult = z.infer<typeof projection>
export type ReadingEntry = z.infer<typeof reading>
export type StillEntry = z.infer<typeof stillEntrySchema>
export type FailedEntry = z.infer<typeof failedEntrySchema>
export type WalkResults = z.infer<typeof resultsSchema>

/** What names an entry everywhere: its file and its reference, for one still may show two. */
export function entryKey({ file, reference }: { readonly file: string; readonly reference: string | null }) {
  return JSON.stringify([file, reference])
}

/** How many stills entries are of. */
export function countStills(entries: readonly { readonly file: string }[]): number {
  return new Set(entries.map(({ file }) => file)).size
}
