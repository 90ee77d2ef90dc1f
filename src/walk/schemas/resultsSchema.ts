import { z } from 'zod'

/**
 * Read leniently, written strictly: a reader keeps keys it does not know, for another release may have written them; the type has only those it knows, so that
 * nothing else is written. A field added since the first release has a default, which a reader takes where it is not there.
 */
const group = z.looseObject as unknown as typeof z.strictObject

const number = z.number()
const nullable = number.nullable()
const addedNumber = nullable.default(null)
const addedWords = z.string().nullable().default(null)
const sha256 = z.string().regex(/^[0-9a-f]{64}$/)
const point = z.tuple([number, number])
const estimate = group({ value: number, low: number, high: number })
const verdict = z.enum(['met', 'not met', 'not shown'])
const words = z.string().nullable()
const basis = z.enum(['pixels', 'detail'])
const numbers = <Key extends string>(...keys: readonly Key[]) =>
  group(Object.fromEntries(keys.map((key) => [key, number])) as Record<Key, typeof number>)
const gradeId = z
  .string()
  .nullable()
  .describe('a grade id; "none" where judged and no limit is reached; null where it could not be judged')

const density = group({
  horizontal: nullable,
  horizontalU: nullable,
  vertical: nullable,
  verticalU: nullable,
  onTarget: number,
  low: number,
  high: number,
  facing: nullable,
}).describe('px/m; U is expanded, 95 %; low and high are the interval of onTarget')

const axisBudget = group({
  densityPxPerM: number,
  cornersRel: number,
  sizeRel: number,
  bendRel: number,
  clickBiasRel: number,
  lens: group({
    loadsRel: z.tuple([number, number]).readonly(),
    gain: number,
    gainLoadsRel: z.tuple([number, number]).readonly(),
  })
    .optional()
    .describe(
      'where the points went through a known lens (bendRel is then 0): what its two unknown draws move, and px per radian here over those in the middle of the picture',
    ),
}).nullable()

const covariance = z.array(z.array(number))
const found = group({
  corners: z.tuple([point, point, point, point]),
  covariancePx2: covariance,
  flattened: group({
    seen: group({ corners: z.tuple([point, point, point, point]), covariancePx2: covariance }).nullable(),
  })
    .optional()
    .describe(
      'where its bend was taken out: its corners as the still shows them, null where the paper bent it',
    ),
}).describe(
  "a found chart's corners as they were measured on, px, and their covariance in the order x1, y1 ... y4, px^2: picks.json holds no others",
)

const budget = group({
  horizontal: axisBudget,
  vertical: axisBudget,
  along: axisBudget,
  found: found.optional(),
}).describe(
  'the uncertainty of the density taken apart: relative standard uncertainties per axis; corners are of this still alone, the others are shared by all stills of the reference in the walk',
)

const direction = group({ mtf50: number, mtf10: number, overshoot: number })

const sharpness = group({
  method: z.enum(['edge', 'fit']),
  horizontal: direction,
  vertical: direction,
  factor: number,
  factorU: number,
  f10OwnU: number
    .optional()
    .describe('expanded uncertainty of f10 of the deciding direction that is of this still alone, cycles/px'),
  shared: group({ toneLoad: number, shapeRel: number })
    .optional()
    .describe(
      'of f10, what other stills of this light share: its relative change per unit of ln exponent of the assumed tone curve, and the relative standard uncertainty of the shape of the blur',
    ),
  curve: group({ step: number, horizontal: z.array(number), vertical: z.array(number) })
    .optional()
    .describe('modulation at 0, step, 2 step ... cycles/px, where a chart showed it'),
})

const tone = group({
  bright: number,
  dim: number,
  michelson: number,
  noise: number,
  contrastToNoise: number,
  roseK: z.record(z.string(), group({ k: number, U: number }).nullable()),
  clippedBright: number,
  clippedDim: number,
  exponent: numbers('ln', 'u')
    .optional()
    .describe(
      "ln of the exponent by which the camera's tone curve departs from sRGB's, as a chart told it, and its standard uncertainty",
    ),
})

const failedEntrySchema = group({
  file: z.string(),
  code: z.string(),
  message: z.string(),
  sha256: sha256.nullable().optional().describe('of the still that failed; null where it was not opened'),
  light: words
    .optional()
    .describe('where it would have stood, and what it was to show; null where not known'),
  distance: nullable.optional(),
  reference: words.optional(),
})

const stillEntrySchema = group({
  file: z.string(),
  sha256,
  width: number,
  height: number,
  light: z.string().nullable(),
  distance: nullable,
  reference: z.string(),
  method: z.enum(['chart', 'picks']),
  corners: z.array(point),
  density,
  budget: budget.optional(),
  pose: group({ yaw: number, pitch: number, roll: number }).nullable(),
  sharpness: sharpness.nullable(),
  tone: tone.nullable(),
  effectiveDensity: estimate.nullable(),
  usable: z.boolean().nullable(),
  grade: gradeId,
  gradeByPixels: gradeId,
  problems: z.array(group({ code: z.string(), message: z.string() })),
  resolved: estimate.nullable().default(null).describe('detail on the reference, cycles per metre'),
  detailFrom: addedWords.describe(
    'the reference whose detail its mark was judged by; its own fields stay what it showed itself',
  ),
  bound: z.boolean().nullable().default(null).describe('whether its detail is an upper bound'),
  sameAs: addedWords.describe('the still this one shows again: it counts nowhere'),
  blocks: z
    .array(z.string())
    .default([])
    .describe('"x,y:hash" of blocks of pixels: by them the same picture in another file is known'),
  alike: z
    .array(z.string())
    .optional()
    .describe('the stills whose noise is its own, as far as that can be told: they may be the same picture'),
})

const mark = group({
  light: z.string(),
  reference: z.string(),
  distance: number,
  lineOfSight: number,
  stills: number,
  density: estimate,
  effectiveDensity: estimate.nullable(),
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
  onOtherBasis: estimate
    .nullable()
    .default(null)
    .describe('with detail where the promise goes by pixels, and the other way round'),
  decidedBy: words.describe('the reference whose figures these are; null where none was measured'),
  why: z.string(),
  task: addedWords.describe("the buyer's own words"),
  what: addedWords.describe('what must not be seen'),
  kind: z.enum(['least', 'most', 'read']).default('least').describe('at least, at most, or text read'),
})

const walkReference = z.union([
  group({
    preset: words,
    width: number,
    height: number,
    widthTolerance: number,
    heightTolerance: number,
    marking: z.enum(['characters', 'plain']),
    carriedAt: nullable,
  }),
  group({
    chart: z.string(),
    printedWidth: nullable,
    width: number,
    height: number,
    widthTolerance: number,
    heightTolerance: number,
    carriedAt: nullable,
  }).describe("the printed chart: its paper, the black frame's outer width as taped, and its size"),
  group({ preset: words, length: number, tolerance: number, carriedAt: nullable }),
])

const pointing = {
  turn: numbers('pan', 'tilt', 'roll').nullable(),
  shift: numbers('x', 'y'),
  scale: number,
  u: numbers('turn', 'shift', 'scale'),
  matches: number,
}

const scene = group({
  stills: z.array(group({ file: z.string(), group: number, ...pointing })),
  lights: z.array(group({ light: z.string(), against: z.string(), ...pointing })),
}).describe(
  'how the camera stood from still to still and from light to light: turned by degrees where a lens is known, shifted by px',
)

const readDistance = numbers('distance', 'low', 'high').nullable()

const reading = group({
  light: z.string(),
  reference: z.string(),
  marks: z.array(numbers('distance', 'right', 'asked', 'share', 'low', 'high')),
  read50: readDistance,
  read95: readDistance,
})

/** The walk as it was measured: the keys of walk.yaml, defaults filled in, lengths in metres, null where it says nothing. */
const measuredWalk = group({
  site: z.string(),
  date: z.string(),
  dateFrom: z.enum(['walk', 'stills']).default('walk').describe('what the date was taken from'),
  people: group({ client: words, walkedBy: words, measuredBy: words }),
  issuer: group({ name: words, logo: words }),
  conditions: z.array(group({ light: z.string(), note: words, illuminance: words })),
  notes: words,
  simulated: z.boolean(),
  camera: group({
    name: z.string(),
    id: words,
    serial: words,
    settings: words,
    image: group({ width: number, height: number }).nullable(),
    fieldOfView: group({ horizontal: nullable, vertical: nullable }).nullable(),
    focalLength: nullable,
    sensor: words,
    pixelPitch: nullable,
    mountHeight: nullable,
    tilt: nullable,
  }),
  units: z.enum(['metric', 'imperial']),
  judge: z.enum(['detail', 'pixels']),
  references: z.record(z.string(), walkReference),
  distance: group({
    from: z.enum(['camera', 'ground']),
    tolerance: number,
    begins: number.default(0).describe("how far before the lens the tape's zero lies"),
  }),
  marks: z.array(number),
  lights: z.array(z.string()),
  promises: z.array(
    group({
      grade: z.string(),
      at: number,
      light: z.string(),
      reference: words,
      task: addedWords,
      what: addedWords,
    }),
  ),
  observations: z.array(
    group({
      mark: number,
      light: z.string(),
      triggered: z.boolean().nullable(),
      by: words,
      plateRead: z.enum(['yes', 'no']).nullable(),
      faceKnown: z.enum(['yes', 'no']).nullable(),
      note: words,
    }),
  ),
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
