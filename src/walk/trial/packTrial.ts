import { sha256Of } from '../../files/fileSha256.js'
import { jsonOrNull } from '../../files/readInnerFile.js'
import { readOrdinaryFile } from '../../files/readOrdinaryFile.js'
import { writeWhole } from '../../files/writeWhole.js'
import { fault } from '../../sentences.js'
import { packSchema, type TrialPack } from '../schemas/readingsSchema.js'
import { trialSays } from './sentences.js'
import type { TrialSource } from './trialSource.js'

/**
 * Reads a packed trial.
 * @throws `ProofwalkError` `bad-pack`
 */
export async function readPack(file: string): Promise<TrialPack> {
  const bytes = await readOrdinaryFile(file).catch(() => null)
  const parsed = packSchema.safeParse(bytes === null ? null : jsonOrNull(bytes))
  if (!parsed.success) throw fault(trialSays['bad-pack'](), { file })
  return parsed.data
}

/**
 * A packed trial as it is read: answers are kept in the file itself, so that one file goes there and back.
 * @throws `ProofwalkError` `pack-altered` where a crop is not what it was packed as
 */
export function packTrial(file: string, pack: TrialPack): TrialSource {
  expectCrops(file, pack, (id, png) => sha256Of(png) === id)
  const answers = [...pack.answers]
  return {
    seed: pack.seed,
    crops: new Map(
      pack.crops.map(({ id, letters, png }) => [id, { letters, png: Buffer.from(png, 'base64') }]),
    ),
    answers: () => answers.filter(({ practice }) => !practice),
    async keep(answer) {
      answers.push(answer)
      await writeWhole(file, `${JSON.stringify({ ...pack, answers })}\n`)
    },
  }
}

/**
 * Holds a pack against the walk it shall be of.
 * @throws `ProofwalkError` `pack-altered` where it has crops that the walk has not, or answers to none of them
 */
export function expectPackOf(file: string, pack: TrialPack, source: TrialSource): void {
  expectCrops(file, pack, (id, png) => sha256Of(png) === id && source.crops.has(id))
  const strange = pack.answers.filter(({ crop, practice }) => !practice && !source.crops.has(crop))
  if (strange.length > 0 || pack.seed !== source.seed)
    throw fault(trialSays['pack-altered'](Math.max(1, strange.length)), { file })
}

function expectCrops(file: string, pack: TrialPack, holds: (id: string, png: Buffer) => boolean): void {
  const strange = pack.crops.filter(({ id, png }) => !holds(id, Buffer.from(png, 'base64')))
  if (strange.length > 0) throw fault(trialSays['pack-altered'](strange.length), { file })
}
