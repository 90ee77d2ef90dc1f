import { join, resolve } from 'node:path'
import type * as z from 'zod'
import { ProofwalkErrors } from '../../../errors.js'
import { problem, fault } from '../../../sentences.js'
import { promisedBy } from '../../../walk/new/newPromise.js'
import { isFolderName } from '../../../walk/new/camerasCsv.js'
import { makeWalk, todayHere } from '../../../walk/new/makeWalk.js'
import {
  CARRIED_KINDS,
  chartChoices,
  editionChoices,
  FIRST_ANSWERS,
  LIGHT_CHOICES,
  plateChoices,
  taskChoices,
  toolChoices,
} from '../../../walk/new/newQuestions.js'
import { newWalkOf } from '../../../walk/new/newWalkOptions.js'
import { newSays } from '../../../walk/new/sentences.js'
import type { BeginView } from '../../beginApi.js'
import type { requestSchemas } from '../reply/requestSchemas.js'

/** Where a walk is begun that is not there yet. */
export interface BeginPlace {
  readonly dir: string
  /** Proposed name of its folder in `dir`; null: it is begun in `dir` itself. */
  readonly folder: string | null
}

/** What is asked to begin a walk: what `proofwalk new` asks, as far as a walk cannot do without. */
export function beginView({ dir, folder }: BeginPlace): BeginView {
  return {
    within: resolve(dir),
    folder,
    carried: CARRIED_KINDS,
    plates: plateChoices,
    papers: chartChoices,
    tools: { metres: toolChoices(false), feet: toolChoices(true) },
    editions: editionChoices,
    tasks: Object.fromEntries(
      editionChoices.map(({ value }) => [
        value,
        {
          metres: taskChoices(promisedBy(value, 'metric')),
          feet: taskChoices(promisedBy(value, 'imperial')),
        },
      ]),
    ),
    lights: LIGHT_CHOICES,
    first: FIRST_ANSWERS,
    takesDetail: problem(newSays['wish-takes-detail']()).message,
  }
}

/**
 * Makes the walk that the answers describe, by the code of `proofwalk new`, and returns its folder.
 * @throws `ProofwalkErrors` with every answer that is at fault; `ProofwalkError` `already-there`, `not-a-folder`, `cannot-write`
 */
export async function beginWalk(
  place: BeginPlace,
  answers: z.output<typeof requestSchemas.begin>,
): Promise<string> {
  const name = answers.folder?.trim() ?? ''
  if (place.folder !== null && !isFolderName(name))
    throw new ProofwalkErrors([fault(newSays['bad-folder'](name), { field: '--folder' })])
  const dir = place.folder === null ? place.dir : join(place.dir, name)
  const said = (key: 'site' | 'client' | 'camera' | 'marks' | 'lights') => {
    const text = answers[key].trim()
    return text === '' ? {} : { [key]: text }
  }
  const { carry, measuredWith, grading, promise, feet } = answers
  const told = {
    ...{ carry, measuredWith, grading, promise, ...(feet ? { feet } : {}) },
    ...{ ...said('site'), ...said('client'), ...said('camera'), ...said('marks'), ...said('lights') },
  }
  await makeWalk(dir, newWalkOf(dir, told, { today: todayHere(), image: null }))
  return dir
}
