import { builtInGradings, type Task } from '../../grade/gradings/builtInGradings.js'
import { parseLength } from '../../units/parseLength.js'
import type { MeasuredWith } from '../../walk/new/measuredWith.js'
import {
  gradeForTask,
  parseNewPromise,
  promisedBy,
  promisedOnce,
  takesDetail,
} from '../../walk/new/newPromise.js'
import { judgesByPixels } from '../../walk/new/newWalk.js'
import {
  CARRIED_KINDS,
  chartChoices,
  editionChoices,
  FIRST_ANSWERS,
  LIGHT_CHOICES,
  type NewChoice,
  plateChoices,
  taskChoices,
  toolChoices,
} from '../../walk/new/newQuestions.js'
import { parseCarried } from '../../walk/new/parseCarried.js'
import { newSays } from '../../walk/new/sentences.js'
import { parseReference } from '../../walk/read/parseReference.js'
import { parseFieldOfView, type NewOptions } from '../../walk/new/newWalkOptions.js'
import type { Questions } from './questions.js'

/**
 * Asks for what the options leave out, in the order a fitter has it at hand, and returns the options with the
 * answers in them. `stillFault` says why a file cannot be read as a still, or null.
 */
export async function askNewWalk(
  questions: Questions,
  given: NewOptions,
  stillFault: (file: string) => Promise<string | null>,
): Promise<NewOptions> {
  const feet = given.feet === true || (given.metres !== true && (await asksFeet(questions)))
  const still = given.still ?? (await askStill(questions, stillFault))
  const sheet = await askDataSheet(questions, given)
  const carried = given.carry ?? (await askCarried(questions, feet))
  const measuredWith = given.measuredWith ?? (await askMeasuredWith(questions, feet))
  const grading = given.grading ?? (await questions.choose('Which edition was agreed?', editionChoices))
  const promise = given.promise ?? (await askPromises(questions, grading, feet))
  const carry = [...carried, ...(await askForDetail(questions, carried, promise, feet))]
  return {
    ...given,
    ...(feet ? { feet } : {}),
    ...(still === '' ? {} : { still }),
    ...sheet,
    carry,
    measuredWith,
    grading,
    promise,
  }
}

async function asksFeet(questions: Questions): Promise<boolean> {
  const unit = await questions.choose('Feet or metres?', [
    { value: 'metres', label: 'metres' },
    { value: 'feet', label: 'feet' },
  ])
  return unit === 'feet'
}

async function askStill(
  questions: Questions,
  stillFault: (file: string) => Promise<string | null>,
): Promise<string> {
  const question = 'An exported still, to read its size from (Enter skips)'
  for (;;) {
    const file = await questions.line(question, { ifEmpty: '' })
    const fault = file === '' ? null : await stillFault(file)
    if (fault === null) return file
    questions.say(`${file}: ${fault}`)
  }
}

async function askDataSheet(questions: Questions, given: NewOptions): Promise<NewOptions> {
  const fieldOfView =
    given.fieldOfView ??
    (await questions.line('From the data sheet: field of view in degrees, such as 100 x 52 (Enter skips)', {
      ifEmpty: '',
      fault: (text) => faultOf(parseFieldOfView(text)),
    }))
  const focalLength =
    given.focalLength ??
    (await questions.line('From the data sheet: focal length, such as 6.6 mm (Enter skips)', {
      ifEmpty: '',
      fault: (text) => lengthFault(text, 'mm'),
    }))
  return {
    ...(fieldOfView === '' ? {} : { fieldOfView }),
    ...(focalLength === '' ? {} : { focalLength }),
  }
}

/** A board or the chart beside what tells no detail, where something was wished that takes it. */
async function askForDetail(
  questions: Questions,
  carried: readonly string[],
  promises: readonly string[],
  feet: boolean,
): Promise<string[]> {
  const things = carried.flatMap((text) => {
    const thing = parseCarried(text, [])
    return thing.ok ? [thing.value] : []
  })
  if (!judgesByPixels(things) || !promises.some(takesDetail)) return []
  questions.say(newSays['wish-takes-detail']().message)
  const kind = await questions.choose(
    'What is carried beside it?',
    [
      { value: 'board', label: 'an even board', hint: 'tells detail' },
      { value: 'chart', label: 'the printed chart', hint: 'tells detail best, and the tone curve' },
      { value: 'nothing', label: 'nothing', hint: 'pixels alone are judged' },
    ],
    'chart',
  )
  return kind === 'nothing'
    ? []
    : [await (kind === 'chart' ? askChart(questions) : askBoard(questions, feet))]
}

function askBoard(questions: Questions, feet: boolean): Promise<string> {
  return questions.line('Size of the board, width first', {
    ifEmpty: firstAnswers(feet).board,
    fault: sizeFault('rectangle'),
  })
}

function firstAnswers(feet: boolean): (typeof FIRST_ANSWERS)['feet' | 'metres'] {
  return FIRST_ANSWERS[feet ? 'feet' : 'metres']
}

async function askChart(questions: Questions): Promise<string> {
  return `chart ${await questions.choose('On which paper?', chartChoices)}`
}

async function askCarried(questions: Questions, feet: boolean): Promise<string[]> {
  const kind = await questions.choose('What is carried from mark to mark?', CARRIED_KINDS, 'board')
  const carried: string[] = []
  if (kind === 'plate' || kind === 'both') {
    carried.push(await questions.choose('Which plate?', plateChoices))
  }
  if (kind === 'board' || kind === 'both') carried.push(await askBoard(questions, feet))
  if (kind === 'chart') carried.push(await askChart(questions))
  if (kind === 'staff') {
    const ifEmpty = firstAnswers(feet).staff
    carried.push(await questions.line('Length of the staff', { ifEmpty, fault: sizeFault('length') }))
  }
  return carried
}

function askMeasuredWith(questions: Questions, feet: boolean): Promise<MeasuredWith> {
  return questions.choose('How are the distances measured?', toolChoices(feet))
}

async function askPromises(
  questions: Questions,
  grading: string | undefined,
  feet: boolean,
): Promise<string[]> {
  const by = promisedBy(grading ?? builtInGradings[0]!.grading.id, feet ? 'imperial' : 'metric')
  const promises: string[] = []
  for (;;) {
    const offered: readonly NewChoice<Task | 'nothing'>[] = taskChoices(by)
    const what = await questions.choose<Task | 'nothing'>(
      promises.length === 0 ? 'What must the camera do?' : 'What else must it do?',
      [...offered, { value: 'nothing', label: promises.length === 0 ? 'not said' : 'nothing else' }],
      promises.length === 0 ? undefined : 'nothing',
    )
    if (what === 'nothing') return promises
    const at = await questions.line('At what distance?', {
      ifEmpty: firstAnswers(feet).at,
      fault: (text) => lengthFault(text),
    })
    const light = await questions.choose('In which light?', LIGHT_CHOICES)
    questions.say(gradeForTask(what, by).because)
    const promise = `${what} at ${at} in ${light}`
    const all = [...promises, promise].flatMap((one) => {
      const read = parseNewPromise(one, by)
      return read.ok ? [read.value] : []
    })
    if (promisedOnce(all).length < all.length) questions.say('that is promised already')
    else promises.push(promise)
  }
}

function lengthFault(text: string, unitMeant?: string): string | null {
  const length = parseLength(text, unitMeant)
  if (!length.ok) return length.message
  return length.value > 0 ? null : 'it must be above 0'
}

function sizeFault(kind: 'rectangle' | 'length'): (text: string) => string | null {
  return (text) => {
    const reference = parseReference(text)
    if (!reference.ok) return reference.message
    if (reference.value.kind === kind) return null
    return kind === 'rectangle'
      ? 'write width and height, such as 600x400mm'
      : 'write one length, such as 2 m'
  }
}

function faultOf(
  outcome: { readonly ok: true } | { readonly ok: false; readonly message: string },
): string | null {
  return outcome.ok ? null : outcome.message
}
