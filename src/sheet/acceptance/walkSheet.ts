import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { ProofwalkError } from '../../errors.js'
import { failure } from '../../math/outcome.js'
import { fault } from '../../sentences.js'
import { sheetSays } from '../sentences.js'
import { plainYaml } from '../../files/plainYaml.js'
import { openStill } from '../../still/openStill.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { Walk } from '../../walk/read/walk.js'
import { readPictures } from '../pictures/readPictures.js'
import { cutCrops } from '../pictures/cutCrops.js'
import type { PaperName, SheetAttach } from '../input/sheetInput.js'
import { writeSheet } from './writeSheet.js'

/** A logo is reduced to this: 600 px to the inch on paper. */
const LOGO_SIDE_PX = 1200

/** How a walk's sheet is set. */
export interface WalkSheetOptions {
  readonly paper: PaperName
  readonly maskPlates: boolean
  readonly maskPeople?: boolean
  readonly attach?: SheetAttach
}

/**
 * The acceptance sheet of a walk as the bytes of one PDF, from the results that belong to it: cuts the pictures out of the stills (only of
 * stills that are still the measured ones) and attaches the folder's results.json, which these are, its walk and picks.
 * @throws `ProofwalkError` `no-logo` where the logo the walk names is not there
 */
export async function walkSheet(
  walk: Walk,
  results: WalkResults,
  options: WalkSheetOptions,
): Promise<Uint8Array> {
  const logo = await readLogo(walk)
  const measured = new Map(results.stills.map((still) => [still.file, still.sha256]))
  const crops = await cutCrops(results, async (file) => {
    const still = await openStill(join(walk.dir, file))
    if (still.ok && still.value.sha256 !== measured.get(file)) {
      return failure(sheetSays['still-changed']())
    }
    return still
  })
  return writeSheet({
    results,
    crops,
    read: await readPictures(walk, results, options),
    attachments: {
      results: await readFile(join(walk.dir, 'results.json')),
      walk: Buffer.from(plainYaml(await readFile(join(walk.dir, 'walk.yaml'), 'utf8'))),
      picks: await readFile(join(walk.dir, 'picks.json')).catch(() => null),
    },
    ...options,
    simulated: walk.simulated,
    ...(logo === null ? {} : { logo }),
  })
}

/** The logo as pixels alone: whatever kind of picture it is, the PDF takes it, and nothing of its EXIF comes along. */
async function readLogo(walk: Walk): Promise<Uint8Array | null> {
  const { logo } = walk.issuer
  if (logo === null) return null
  const none = (why: string): ProofwalkError =>
    fault(sheetSays['no-logo'](logo, why), { file: join(walk.dir, 'walk.yaml'), field: 'issuer.logo' })
  const picture = await openStill(join(walk.dir, logo))
  if (!picture.ok) throw none(picture.message)
  const { width, height } = picture.value
  try {
    const { bytes } = await picture.value.crop(
      { left: 0, top: 0, width, height },
      { format: 'png', longestSidePx: LOGO_SIDE_PX },
    )
    return bytes
  } catch (error) {
    if (error instanceof ProofwalkError) throw none(error.message)
    throw error
  }
}
