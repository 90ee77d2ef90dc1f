import { z } from 'zod'

const number = z.number()
const nullable = number.nullable()
const sha256 = z.string().regex(/^[0-9a-f]{64}$/)
const point = z.tuple([number, number])
const estimate = z.strictObject({ value: number, low: number, high: number })
const verdict = z.enum(['met', 'not met', 'not shown'])
const words = z.string().nullable()
const basis = z.enum(['pixels', 'detail'])
const gradeId = z
  .string()
  .nullable()
  .describe('a grade id; "none" where judged and no limit is reached; null where it could not be judged')

const density = z
  .strictObject({
    horizontal: nullable,
    horizontalU: nullable,
    vertical: nullable,
    verticalU: nullable,
    onTarget: number,
    low: number,
    high: number,
    facing: nullable,
  })
  .describe('px/m; U is expanded, 95 %; low and high are the interval of onTarget')

const axisBudget = z
  .strictObject({
    densityPxPerM: number,
    cornersRel: number,
    sizeRel: number,
    bendRel: number,
    clickBiasRel: number,
    lens: z
      .strictObject({
        loadsRel: z.tuple([number, number]).readonly(),
        gain: number,
        gainLoadsRel: z.tuple([number, number]).readonly(),
      })
      .optional()
      .describe(
        'where the points went through a known lens (bendRel is then 0): what its two unknown draws move, and px per radian here over those in the middle of the picture',
      ),
  })
  .nullable()

const budget = z
  .strictObject({ horizontal: axisBudget, vertical: axisBudget, along: axisBudget })
  .describe(
    'the uncertainty of the density taken apart: relative standard uncertainties per axis; corners are of this still alone, the others are shared by all stills of the reference in the walk',
  )

const direction = z.strictObject({ mtf50: number, mtf10: number, overshoot: number })

const sharpness = z.strictObject({
  method: z.enum(['edge', 'fit']),
  horizontal: direction,
  vertical: direction,
  factor: number,
  factorU: number,
  f10OwnU: number
    .optional()
    .describe('expanded uncertainty of f10 of the deciding direction that is of this still alone, cycles/px'),
  curve: z
    .strictObject({ step: number, horizontal: z.array(number), vertical: z.array(number) })
    .optional()
    .describe('modulation at 0, step, 2 step ... cycles/px, where a chart showed it'),
})

const tone = z.strictObject({
  bright: number,
  dim: number,
  michelson: number,
  noise: number,
  contrastToNoise: number,
  roseK: z.record(z.string(), z.strictObject({ k: number, U: number }).nullable()),
  clippedBright: number,
  clippedDim: number,
})

const failedEntrySchema = z.strictObject({
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

const stillEntrySchema = z.strictObject({
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
  pose: z.strictObject({ yaw: number, pitch: number, roll: number }).nullable(),
  sharpness: sharpness.nullable(),
  tone: tone.nullable(),
  effectiveDensity: estimate.nullable(),
  usable: z.boolean().nullable(),
  grade: gradeId,
  gradeByPixels: gradeId,
  problems: z.array(z.strictObject({ code: z.string(), message: z.string() })),
})

const mark = z.strictObject({
  light: z.string(),
  reference: z.string(),
  distance: number,
  lineOfSight: number,
  stills: number,
  density: estimate,
  effectiveDensity: estimate.nullable(),
  grade: gradeId,
  gradeByPixels: gradeId,
  usable: z.boolean().nullable(),
  why: z.string(),
  leftOut: z.boolean(),
})

const range = z.strictObject({
  light: z.string(),
  reference: z.string(),
  grade: z.string(),
  basis,
  from: nullable,
  distance: nullable,
  low: nullable,
  high: nullable,
  kind: z.enum(['fitted', 'bracketed', 'extrapolated', 'none']),
})

const lens = z.strictObject({
  light: z.string(),
  reference: z.string(),
  pixelsPerRadian: estimate,
  offsetM: number,
  suspect: z.strictObject({ distance: number, fits: number }).nullable(),
  promised: z.strictObject({ rectilinear: nullable, asRead: nullable }).nullable(),
})

const projection = z
  .strictObject({
    p: number,
    low: number,
    high: number,
    pixelsPerRadian: z.array(z.strictObject({ light: z.string(), value: number, low: number, high: number })),
    from: z
      .enum(['walk', 'data-sheet'])
      .describe("fitted from the walk's own stills, or the data sheet's, with which they agree"),
    stills: number.describe('how many stills it was fitted to'),
    leftOut: z
      .strictObject({ light: z.string(), lineOfSight: number })
      .nullable()
      .describe('the mark that fits none of the others'),
  })
  .describe(
    'the lens that corners went through: its projection p and px per radian in the middle of the picture, 95 %',
  )

const promise = z.strictObject({
  grade: z.string(),
  distance: number,
  light: z.string(),
  reference: z.string().nullable(),
  basis,
  verdict,
  byPixels: verdict,
  value: nullable,
  low: nullable,
  high: nullable,
  limit: number,
  decidedBy: words.describe('the reference whose figures these are; null where none was measured'),
  why: z.string(),
})

const walkReference = z.union([
  z.strictObject({
    preset: words,
    width: number,
    height: number,
    widthTolerance: number,
    heightTolerance: number,
    marking: z.enum(['characters', 'plain']),
    carriedAt: nullable,
  }),
  z
    .strictObject({
      chart: z.string(),
      printedWidth: nullable,
      width: number,
      height: number,
      widthTolerance: number,
      heightTolerance: number,
      carriedAt: nullable,
    })
    .describe("the printed chart: its paper, the black frame's outer width as taped, and its size"),
  z.strictObject({ preset: words, length: number, tolerance: number, carriedAt: nullable }),
])

/** The walk as it was measured: the keys of walk.yaml, defaults filled in, lengths in metres, null where it says nothing. */
const measuredWalk = z.strictObject({
  site: z.string(),
  date: z.string(),
  people: z.strictObject({ client: words, walkedBy: words, measuredBy: words }),
  issuer: z.strictObject({ name: words, logo: words }),
  conditions: z.array(z.strictObject({ light: z.string(), note: words, illuminance: words })),
  notes: words,
  simulated: z.boolean(),
  camera: z.strictObject({
    name: z.string(),
    id: words,
    serial: words,
    settings: words,
    image: z.strictObject({ width: number, height: number }).nullable(),
    fieldOfView: z.strictObject({ horizontal: nullable, vertical: nullable }).nullable(),
    focalLength: nullable,
    sensor: words,
    pixelPitch: nullable,
    mountHeight: nullable,
    tilt: nullable,
  }),
  units: z.enum(['metric', 'imperial']),
  judge: z.enum(['detail', 'pixels']),
  references: z.record(z.string(), walkReference),
  distance: z.strictObject({ from: z.enum(['camera', 'ground']), tolerance: number }),
  marks: z.array(number),
  lights: z.array(z.string()),
  promises: z.array(z.strictObject({ grade: z.string(), at: number, light: z.string(), reference: words })),
  observations: z.array(
    z.strictObject({
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

const measuredGrading = z.strictObject({
  id: z.string(),
  name: z.string(),
  source: z.string(),
  grades: z.array(
    z.strictObject({ id: z.string(), name: z.string(), limit: number, element: number.optional() }),
  ),
  leastRoseK: number.optional(),
  fullDetailAt: number.optional(),
})

/** `results.json`: the contract other programs read. Lengths metres, densities px/m, angles degrees, frequencies cycles/px. */
export const resultsSchema = z.strictObject({
  format: z.literal('proofwalk-results/1'),
  method: z.string().describe('version of the measuring'),
  inputs: z.strictObject({
    walk: sha256.nullable(),
    picks: sha256.nullable(),
    grading: sha256.nullable(),
  }),
  walk: measuredWalk,
  grading: measuredGrading,
  stills: z.array(stillEntrySchema),
  marks: z.array(mark),
  ranges: z.array(range),
  triggers: z.array(
    z.strictObject({ light: z.string(), farthestTriggered: nullable, nearestNotTriggered: nullable }),
  ),
  lens: z.array(lens),
  projection: projection
    .nullable()
    .optional()
    .describe('null where the lens is not known: corners were read as they lie, the bend being in U'),
  promises: z.array(promise),
  findings: z
    .array(z.strictObject({ code: z.string(), message: z.string() }))
    .describe('what the reader should know of the walk as a whole'),
  unassigned: z.array(z.strictObject({ file: z.string(), message: z.string() })),
  failed: z.array(failedEntrySchema),
})

export type MeasuredWalk = z.infer<typeof measuredWalk>
export type ProjectionResult = z.infer<typeof projection>
export type StillEntry = z.infer<typeof stillEntrySchema>
export type FailedEntry = z.infer<typeof failedEntrySchema>
export type WalkResults = z.infer<typeof resultsSchema>
