import { CHART_PAPERS } from '../../chart/printed/chartPapers.js'
import { builtInGradings, type Task } from '../../grade/gradings/builtInGradings.js'
import { referencePresets } from '../../measure/reference/referencePresets.js'
import { parseLength } from '../../units/parseLength.js'
import { measuringTools, type MeasuredWith } from '../../walk/new/measuredWith.js'
import {
  gradeForTask,
  parseNewPromise,
  promisedBy,
  promisedOnce,
  takesDetail,
} from '../../walk/new/newPromise.js'
import { judgesByPixels } from '../../walk/new/newWalk.js'
import { parseCarried } from '../../walk/new/parseCarried.js'
import { newSays } from '../../walk/new/sentences.js'
import { parseReference } from '../../walk/read/parseReference.js'
import { parseFieldOfView, type NewOptions } from './newWalkOptions.js'
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
  const promise = given.promise ?? (await askPromises(questions, given.grading, feet))
  const carry = [...carried, ...(await askForDetail(questions, carried, promise, feet))]
  return {
    ...given,
    ...(feet ? { feet } : {}),
    ...(still === '' ? {} : { still }),
    ...sheet,
    carry,
    measuredWith,
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
  const ifEmpty = feet ? '24x16in' : '600x400mm'
  return questions.line('Size of the board, width first', { ifEmpty, fault: sizeFault('rectangle') })
}

async function askChart(questions: Questions): Promise<string> {
  const papers = CHART_PAPERS.map(({ id, name }) => ({ value: id, label: name }))
  return `chart ${await questions.choose('On which paper?', papers)}`
}

async function askCarried(questions: Questions, feet: boolean): Promise<string[]> {
  const kind = await questions.choose(
    'What is carried from mark to mark?',
    [
      { value: 'plate', label: 'a number plate', hint: 'tells pixels, but no detail: it has no quiet edge' },
      { value: 'board', label: 'an even board', hint: 'tells pixels and detail' },
      { value: 'both', label: 'a plate and a board', hint: 'what a buyer asks about, and detail' },
      { value: 'chart', label: 'the printed chart', hint: 'found by itself; tells pixels, detail and tone' },
      { value: 'staff', label: 'a staff', hint: 'a straight length; tells pixels' },
    ],
    'board',
  )
  const carried: string[] = []
  if (kind === 'plate' || kind === 'both') {
    const plates = referencePresets.filter(({ id }) => /^(plate|characters)-/.test(id))
    carried.push(
      await questions.choose(
        'Which plate?',
        plates.map(({ id, name }) => ({ value: id, label: name, hint: id })),
      ),
    )
  }
  if (kind === 'board' || kind === 'both') carried.push(await askBoard(questions, feet))
  if (kind === 'chart') carried.push(await askChart(questions))
  if (kind === 'staff') {
    const ifEmpty = feet ? '6 ft' : '2 m'
    carried.push(await questions.line('Length of the staff', { ifEmpty, fault: sizeFault('length') }))
  }
  return carried
}

async function askMeasuredWith(questions: Questions, feet: boolean): Promise<MeasuredWith> {
  const ways = Object.keys(measuringTools) as MeasuredWith[]
  return questions.choose(
    'How are the distances measured?',
    ways.map((way) => ({
      value: way,
      label: way,
      hint: `taken as right to ${feet ? measuringTools[way].toleranceInFeet : measuringTools[way].tolerance}`,
    })),
  )
}

async function askPromises(
  questions: Questions,
  grading: string | undefined,
  feet: boolean,
): Promise<string[]> {
  const by = promisedBy(grading ?? builtInGradings[0]!.grading.id, feet ? 'imperial' : 'metric')
  const promises: string[] = []
  for (;;) {
    const offered = (['read a plate', 'know a face', 'notice movement'] as const).map((task) => ({
      value: task as Task | 'nothing',
      label: task,
      hint: gradeForTask(task, by).short,
    }))
    const what = await questions.choose<Task | 'nothing'>(
      promises.length === 0 ? 'What must the camera do?' : 'What else must it do?',
      [...offered, { value: 'nothing', label: promises.length === 0 ? 'not said' : 'nothing else' }],
      promises.length === 0 ? undefined : 'nothing',
    )
    if (what === 'nothing') return promises
    const at = await questions.line('At what distance?', {
      ifEmpty: feet ? '50 ft' : '16 m',
      fault: (text) => lengthFault(text),
    })
    const light = await questions.choose('In which light?', [
      { value: 'day', label: 'day' },
      { value: 'dark', label: 'dark', hint: 'no lamp, no infrared' },
      { value: 'infrared', label: 'infrared' },
      { value: 'lamp', label: 'lamp' },
    ])
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
