import { EigenvalueDecomposition, Matrix } from 'ml-matrix'
import * as z from 'zod'
import { HAND_SIGMA_PX } from '../../measure/reference/pick.js'
import type { Said } from '../../sentences.js'
import { complaint, faultless, pathFault, text } from './fieldSchemas.js'
import { fieldSays } from './sentences.js'

const SHA256 = /^[0-9a-f]{64}$/

const point = z.tuple([z.number(), z.number()])

const corners = z.tuple([point, point, point, point])

const covariance = z.array(z.array(z.number())).meta({
  description:
    'px^2, in the order x1, y1, x2, y2, ...: 8 rows of 8 for corners, 4 of 4 for ends; overrides sigma',
})

/** One pick of a still. */
export const pickSchema = z
  .strictObject({
    sha256: z
      .string()
      .superRefine(faultless((text) => (SHA256.test(text) ? null : fieldSays['no-sha256']())))
      .meta({
        pattern: SHA256.source,
        description: 'the SHA-256 of the still the points were taken on, 64 hexadecimal digits',
      }),
    reference: text(
      "a name under the walk's references; may be left out where it has only one",
      'plate',
    ).optional(),
    corners: corners.optional().meta({
      description: "clockwise from the reference's own top left, px",
      examples: [
        [
          [812.5, 402],
          [1012, 404.5],
          [1011, 447],
          [812, 444],
        ],
      ],
    }),
    ends: z
      .tuple([point, point])
      .optional()
      .meta({
        description: 'of a length, px',
        examples: [
          [
            [812.5, 402],
            [815, 744],
          ],
        ],
      }),
    sigma: z
      .number()
      .positive()
      .default(HAND_SIGMA_PX)
      .meta({ description: 'standard deviation per axis, px', examples: [HAND_SIGMA_PX] }),
    covariance: covariance.optional(),
    method: z
      .enum(['hand', 'snapped'])
      .default('hand')
      .meta({ description: 'how the points were got', examples: ['hand'] }),
    doubts: z
      .array(z.strictObject({ code: z.string(), corners: corners.optional() }))
      .optional()
      .meta({ description: 'what the fit doubted; corners: the other outline, px' }),
  })
  .superRefine((pick, context) => {
    const complain = (said: Said | null, path: string[] = []) => {
      if (said !== null) context.addIssue(complaint(said, path))
    }
    if (pick.corners !== undefined && pick.ends !== undefined) complain(fieldSays['corners-and-ends']())
    if (pick.corners === undefined && pick.ends === undefined) complain(fieldSays['no-points']())
    complain(covarianceFault(pick.covariance, pick.corners === undefined ? 4 : 8), ['covariance'])
  })
  .meta({
    oneOf: ['corners', 'ends'].map((points) => ({
      type: 'object',
      required: [points],
      properties: { [points]: { type: 'array' } },
    })),
  })

const severalPicks = z
  .array(pickSchema)
  .min(1)
  .superRefine((picks, context) => {
    picks.forEach(({ reference }, index) => {
      const complain = (said: Said) => context.addIssue(complaint(said, [index, 'reference']))
      if (reference === undefined && picks.length > 1) complain(fieldSays['pick-unnamed']())
      if (picks.slice(0, index).some((other) => other.reference === reference))
        complain(fieldSays['picked-twice'](String(reference)))
    })
  })

/**
 * `picks.json`: the points of the references, clicked by a person. Image coordinates: px, x right, y down, (0,0) at
 * the outer corner of the top-left pixel of the still as displayed.
 */
export const picksSchema = z.strictObject({
  format: z.literal('proofwalk-picks/1').meta({ examples: ['proofwalk-picks/1'] }),
  stills: z
    .record(
      z
        .string()
        .refine((path) => pathFault(path) === null, { error: ({ input }) => pathFault(String(input)) }),
      z.union([pickSchema, severalPicks]),
    )
    .meta({
      description:
        "by the still's path from the walk's folder, with forward slashes: one pick, or a list of them, one a reference",
    }),
})

/** Picks as they stand in the file. */
export type PicksFile = z.output<typeof picksSchema>

/** One pick of a still as it stands in the file. */
export type PickEntry = z.output<typeof pickSchema>

/** The pick an entry of the results was measured on; undefined where there is none. A pick that names no reference is of the walk's only one. */
export function pickOfEntry(
  { stills }: PicksFile,
  entry: { readonly file: string; readonly reference: string },
): PickEntry | undefined {
  return [stills[entry.file] ?? []]
    .flat()
    .find(({ reference = entry.reference }) => reference === entry.reference)
}

/** Why a matrix is no covariance of that many coordinates, or null. */
function covarianceFault(rows: readonly (readonly number[])[] | undefined, size: number): Said | null {
  if (rows === undefined) return null
  if (rows.length !== size || rows.some((row) => row.length !== size))
    return fieldSays['covariance-size'](size)
  const matrix = new Matrix(rows.map((row) => [...row]))
  const scale = Math.max(...matrix.to1DArray().map(Math.abs))
  const skew = Matrix.sub(matrix, matrix.transpose())
  if (Math.max(...skew.to1DArray().map(Math.abs)) > 1e-9 * scale) return fieldSays['covariance-skew']()
  const least = Math.min(...new EigenvalueDecomposition(matrix, { assumeSymmetric: true }).realEigenvalues)
  return least >= -1e-9 * scale ? null : fieldSays['covariance-negative']()
}
