import * as z from 'zod'

const sha256 = z.string().nullable().default(null)

/**
 * What `results.json` of every release says of the files it was made from, and no more: enough to hold them against their hashes for ever, whatever
 * else a release adds or changes.
 */
export const resultsHashesSchema = z.object({
  format: z.literal('proofwalk-results/1'),
  method: z.string(),
  inputs: z.object({
    walk: sha256,
    picks: sha256,
    grading: sha256,
    walkPlain: sha256,
    readings: sha256,
  }),
  stills: z.array(
    z.object({ file: z.string(), sha256: z.string(), reference: z.string(), method: z.string() }),
  ),
  failed: z.array(z.object({ file: z.string(), code: z.string(), sha256 })),
  unassigned: z.array(z.object({ file: z.string() })),
})

export type ResultsHashes = z.infer<typeof resultsHashesSchema>
