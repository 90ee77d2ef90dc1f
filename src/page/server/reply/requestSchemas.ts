import * as z from 'zod'

const file = z.string().min(1).max(4096)
const text = z.string().max(1000)
const name = z.string().min(1).max(200)
const version = z.string().max(100).nullable()
const point = z.tuple([z.number(), z.number()])
const corners = z.tuple([point, point, point, point])

/** A pick as the page sends it; what more a pick must be, the schema of picks.json says. */
const pick = z.strictObject({
  reference: name.nullable(),
  corners: corners.optional(),
  ends: z.tuple([point, point]).optional(),
  method: z.enum(['hand', 'snapped']),
  sigma: z.number().positive().optional(),
  covariance: z.array(z.array(z.number()).max(8)).max(8).optional(),
  doubts: z
    .array(z.strictObject({ code: name, corners: corners.optional() }))
    .max(8)
    .optional(),
})

/** The bodies of the page's requests, as api.ts has them. */
export const requestSchemas = {
  begin: z.strictObject({
    folder: z.string().max(1000).nullable(),
    site: text,
    client: text,
    camera: text,
    feet: z.boolean(),
    carry: z.array(text).min(1).max(20),
    measuredWith: z.enum(['tape', 'laser', 'wheel', 'paces']),
    grading: text,
    marks: text,
    lights: text,
    promise: z.array(text).max(50),
  }),
  enter: z.strictObject({ token: z.string().max(100) }),
  measure: z.strictObject({ file, pick }),
  snap: z.strictObject({
    file,
    reference: name,
    corners,
    placed: z.array(z.boolean()).length(4),
    clickSigma: z.number().positive().max(1000),
  }),
  pick: z.strictObject({ file, was: version, sha256: z.string().length(64), pick: pick.nullable() }),
  assign: z.strictObject({
    changes: z
      .array(
        z.strictObject({
          file,
          was: version,
          mark: z.string().max(100).nullable(),
          light: name.nullable(),
          reference: name.nullable(),
        }),
      )
      .min(1)
      .max(5000),
    addLights: z.boolean().optional(),
  }),
  border: z.strictObject({ reference: name, border: z.string().min(1).max(1100) }),
  borderSeen: z.strictObject({ reference: name }),
  sheet: z.strictObject({
    paper: z.enum(['A4', 'Letter']),
    maskPlates: z.boolean(),
    maskPeople: z.boolean().optional(),
    overMasked: z.boolean().optional(),
  }),
  takeBack: z.strictObject({ files: z.array(file).min(1).max(5000) }),
  unsaved: z.strictObject({ kept: z.string().max(900_000).nullable() }),
  nothing: z.strictObject({}),
} as const
