import * as z from 'zod'
import {
  addedWords,
  group,
  maybeBound,
  nullable,
  number,
  numbers,
  point,
  sha256,
  words,
} from './resultsParts.js'

export const gradeId = z
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
      "ln of the exponent by which the camera's tone curve departs from sRGB's, as a chart showed it, and its standard uncertainty",
    ),
})

const response = z.array(numbers('value', 'U'))
const strip = group({
  frequencies: z.array(number).describe('cycles per px'),
  response24: response.describe('to bars of 24 % contrast, at those frequencies; U is expanded, 95 %'),
  response88: response.describe('to black bars'),
  a: number.describe('low-contrast detail, cycles per metre: density times the area under response24'),
  aU: number,
  k: z
    .record(z.string(), group({ k: number, U: number, least: number }))
    .describe(
      "per grade: k of a square of its stroke at 24 % contrast in the black bars' noise, and the least that is asked",
    ),
  pieces: z
    .array(group({ a: number, k: z.record(z.string(), number) }))
    .describe('a and every k without each eighth of the strips: by them stills of one mark are pooled'),
  stroke: nullable.describe('the finest stroke shown, 0.2 / a, metres'),
  noise: number.describe("what black bars leave of a pixel, a share of paper's light"),
  signs: z.array(z.string()).describe("codes of what the camera's processing did"),
}).describe(
  'what the two strips under the reference showed; null where nothing, left out where it carries none',
)

export const failedEntrySchema = group({
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

export const stillEntrySchema = group({
  file: z.string(),
  sha256,
  width: number,
  height: number,
  takenAt: z
    .string()
    .optional()
    .describe("when it was taken by its camera's clock, without a zone; left out where it does not say"),
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
  strip: strip.nullable().optional(),
  effectiveDensity: maybeBound.nullable().describe('low is null where it is an upper bound'),
  usable: z.boolean().nullable(),
  grade: gradeId,
  gradeByPixels: gradeId,
  problems: z.array(group({ code: z.string(), message: z.string() })),
  resolved: maybeBound
    .nullable()
    .default(null)
    .describe('detail on the reference, cycles per metre; low is null where it is an upper bound'),
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
    .describe('the stills whose noise is its own, as far as that can be seen: they may be the same picture'),
})
