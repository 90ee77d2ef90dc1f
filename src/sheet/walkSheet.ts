import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { ProofwalkError } from '../errors.js'
import { failure } from '../math/outcome.js'
import { openStill } from '../still/openStill.js'
import type { WalkResults } from '../walk/resultsSchema.js'
import { resultsText } from '../walk/resultsText.js'
import type { Walk } from '../walk/walk.js'
import { cutCrops } from './cutCrops.js'
import type { PaperName } from './sheetInput.js'
import { writeSheet } from './writeSheet.js'

/** How a walk's sheet is set. */
export interface WalkSheetOptions {
  readonly paper: PaperName
  readonly maskPlates: boolean
}

/**
 * The acceptance sheet of a walk as the bytes of one PDF, from the results that belong to it: cuts the pictures out of the stills (only of
 * stills that are still the measured ones) and attaches results, walk and picks. Throws `ProofwalkError` `no-logo` where the logo the walk names is not there.
 */
export async function walkSheet(
  walk: Walk,
  results: WalkResults,
  options: WalkSheetOptions,
): Promise<Uint8Array> {
  const measured = new Map(results.stills.map((still) => [still.file, still.sha256]))
  const crops = await cutCrops(results, async (file) => {
    const still = await openStill(join(walk.dir, file))
    if (still.ok && still.value.sha256 !== measured.get(file)) {
      return failure('still-changed', 'the still has changed since it was measured')
    }
    return still
  })
  const logo = await readLogo(walk)
  return writeSheet({
    results,
    crops,
    attachments: {
      results: Buffer.from(resultsText(results)),
      walk: await readFile(join(walk.dir, 'walk.yaml')),
      picks: await readFile(join(walk.dir, 'picks.json')).catch(() => null),
    },
    paper: options.paper,
    maskPlates: options.maskPlates,
    simulated: walk.simulated,
    ...(logo === null ? {} : { logo }),
  })
}

async function readLogo(walk: Walk): Promise<Uint8Array | null> {
  const { logo } = walk.issuer
  if (logo === null) return null
  return readFile(join(walk.dir, logo)).catch(() => {
    throw new ProofwalkError('no-logo', `"${logo}" cannot be read`, {
      file: join(walk.dir, 'walk.yaml'),
      field: 'issuer.logo',
      mend: 'put the picture there or delete the line',
    })
  })
}
