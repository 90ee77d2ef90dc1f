import { randomInt } from 'node:crypto'
import { join } from 'node:path'
import { changeFile } from '../../files/changeFile.js'
import { writeWhole } from '../../files/writeWhole.js'
import type { GivenAnswer, ReadingAnswer, Readings, TrialPack } from '../schemas/readingsSchema.js'
import { parseReadings, READINGS_FILE, readReadings } from './readReadings.js'
import type { TrialCrop } from './trialCrops.js'
import { isSameShowing, type TrialSource } from './trialSource.js'

/** A walk's trial: what is to be read in its stills, and `readings.json`, which is begun with a seed of its own where there is none. */
export async function walkTrial(dir: string, crops: readonly TrialCrop[]): Promise<TrialSource> {
  const byId = new Map(crops.map((crop) => [crop.id, crop]))
  // Written at once: a pack that comes back is known by its seed.
  let readings: Readings = (await readReadings(dir)) ?? (await addAnswers(dir, randomInt(2 ** 32), []))
  return {
    seed: readings.seed,
    crops: new Map(crops.map(({ id, shown, png }) => [id, { letters: shown.length, png }])),
    answers: () => givenOf(readings, crops),
    async keep(answer, shown) {
      const { crop, ...given } = answer
      const from = byId.get(crop)
      const kept: ReadingAnswer = {
        ...given,
        file: from?.file ?? 'practice',
        still: from?.still ?? null,
        row: from?.row ?? 'full',
        shown: from?.shown ?? shown ?? '?',
      }
      readings = await addAnswers(dir, readings.seed, [kept])
    },
  }
}

/** The answers to crops as they are now: those to a still that has changed since are none. */
function givenOf({ answers }: Readings, crops: readonly TrialCrop[]): GivenAnswer[] {
  return answers.flatMap(({ file, still, row, shown, ...given }) => {
    const crop = crops.find(
      (one) => one.file === file && one.still === still && one.row === row && one.shown === shown,
    )
    return crop === undefined || given.practice ? [] : [{ ...given, crop: crop.id }]
  })
}

/** Adds answers to `readings.json`, whole or not at all, on top of what others wrote meanwhile. */
async function addAnswers(dir: string, seed: number, added: readonly ReadingAnswer[]): Promise<Readings> {
  let written: Readings | null = null
  await changeFile(dir, READINGS_FILE, (text) => {
    const before: Readings =
      text === null
        ? { format: 'proofwalk-readings/1', seed, answers: [] }
        : parseReadings(new TextEncoder().encode(text), join(dir, READINGS_FILE))
    written = { ...before, answers: [...before.answers, ...added] }
    return Promise.resolve(`${JSON.stringify(written, null, 1)}\n`)
  })
  return written!
}

/** Writes a trial as one file to be carried away: without what its crops say, and without where they are from. */
export async function writePack(file: string, source: TrialSource): Promise<void> {
  const crops = [...source.crops].map(([id, { letters, png }]) => {
    return { id, letters, png: Buffer.from(png).toString('base64') }
  })
  const pack: TrialPack = {
    format: 'proofwalk-trial/1',
    seed: source.seed,
    crops: crops.sort((a, b) => (a.id < b.id ? -1 : 1)),
    answers: [],
  }
  await writeWhole(file, `${JSON.stringify(pack)}\n`)
}

/** What came of bringing a packed trial back. */
export interface Merged {
  readonly taken: number
  /** Answers that were there already. */
  readonly known: number
  /** Answers to a showing that the same reader had answered otherwise. */
  readonly contrary: number
}

/** Takes the answers of a pack into a walk's trial; what was answered there already stands. */
export async function mergePack(source: TrialSource, pack: TrialPack): Promise<Merged> {
  let [taken, known, contrary] = [0, 0, 0]
  for (const answer of pack.answers) {
    if (answer.practice) continue
    const before = source.answers().find((one) => isSameShowing(one, answer))
    if (before === undefined) {
      await source.keep(answer, null)
      taken += 1
    } else if (before.answered === answer.answered) known += 1
    else contrary += 1
  }
  return { taken, known, contrary }
}
