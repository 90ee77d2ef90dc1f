import { type BuiltInGrading, builtInGradings, type Task } from '../../grade/gradings/builtInGradings.js'
import type { Grading } from '../../grade/gradings/grading.js'
import { isChart, type Reference } from '../../measure/reference/reference.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { besideMetric, figuresFor } from '../../units/figures.js'
import type { UnitSystem } from '../../units/formatLength.js'
import { parseLength } from '../../units/parseLength.js'
import type { Carried, NewPromise } from './newWalk.js'
import { newSays } from './sentences.js'
import { isSameMark } from '../read/sameMark.js'
import { READ_PERCENT } from '../schemas/fieldSchemas.js'
import { gradeOfGrading, lightOfWalk } from '../read/walkWords.js'

/** The grade a task asks for: in short, and in the sentence that says why and by which source. */
interface AskedGrade {
  readonly grade: string
  readonly short: string
  readonly because: string
}

/** Whether a wish as it was typed asks for more than that something is noticed in daylight: pixels that show no detail do for that alone. */
export function takesDetail(wish: string): boolean {
  return !/^\s*notice movement\s.*\bday\s*$/i.test(wish)
}

/** What a promise is made by: a grading and the tasks it has a grade for, none where it is the walk's own, and the units of the walk. */
export interface PromisedBy {
  readonly grading: Grading
  readonly tasks: BuiltInGrading['tasks']
  readonly units: UnitSystem
}

/** The grading of that id as promises are made by it: the default where it is not built in. */
export function promisedBy(gradingId: string, units: UnitSystem): PromisedBy {
  const { grading, tasks } =
    builtInGradings.find((one) => one.grading.id === gradingId) ?? builtInGradings[0]!
  return { grading, tasks, units }
}

/** The grade a task asks for in a grading that has one for it. */
export function gradeForTask(task: Task, { grading, tasks, units }: PromisedBy): AskedGrade {
  const { grade, note } = tasks.find((one) => one.task === task)!
  const { limit } = grading.grades.find(({ id }) => id === grade)!
  const short = `${grade}, ${figuresFor(units).limit(limit)} by ${grading.name}`
  const told = units === 'metric' ? note : besideMetric(note)
  return { grade, short, because: `to ${task}: ${short} (${told})` }
}

/**
 * Reads what the camera must do as `new` takes it: `read a plate at 16 m in day`, or with a grade,
 * `recognise at 45 ft under infrared`, or by reading, `read a plate to 95 % at 12 m in day`; before the light stands in, by, at, under or a comma.
 */
export function parseNewPromise(text: string, by: PromisedBy): Outcome<NewPromise, 'bad-promise'> {
  const parts =
    /^\s*(\S.*?)\s+at\s+(\S.*?)(?:\s*,\s*(?!\d)(?:(?:in|by|at|under)\s+)?|\s+(?:in|by|at|under)\s+)(?!(?:in|by|at|under)\s)(\S.*?)\s*$/i.exec(
      text,
    )
  if (parts === null) {
    const hasLight = /\sat\s.*(?:,|\s(?:in|by|at|under))\s*\S/i.test(text)
    const missing = !/\sat\s+\S/i.test(text) ? 'distance' : hasLight ? 'task' : 'light'
    return failure(newSays['promise-incomplete'](text, missing))
  }
  const [, what, typed, light] = parts as unknown as [string, string, string, string]
  const distance = parseLength(typed)
  if (!distance.ok) return { ...distance, code: 'bad-promise' }
  // A decimal comma would end the value in walk.yaml.
  const at = typed.replace(',', '.')
  if (distance.value <= 0) return failure(newSays['promise-nowhere'](at))
  const read = readShare(what)
  if (read !== null) {
    if (!read.ok) return read
    const { share, isPlate } = read.value
    if (!isPlate) return success({ grade: null, read: share, at, light, because: null, task: null })
    const { grade, because } = gradeForTask('read a plate', by)
    return success({ grade, read: share, at, light, because, task: 'read a plate' })
  }
  const task = by.tasks.find((one) => one.task === what.toLowerCase())
  if (task !== undefined) {
    const { grade, because } = gradeForTask(task.task, by)
    return success({ grade, at, light, because, task: task.task })
  }
  const grade = gradeOfGrading(what, by.grading)
  if (grade !== null) return success({ grade, at, light, because: null, task: null })
  const known = [...by.tasks.map((one) => one.task), ...by.grading.grades.map(({ id }) => id)]
  return failure(newSays['unknown-task'](what, known))
}

/** What is asked to be read: "read 95 %", or "read a plate to 95 %", whose grade then stands beside it; null where it is something else. */
function readShare(what: string): Outcome<{ share: string; isPlate: boolean }, 'bad-promise'> | null {
  const [, plate, digits] = /^read(\s+a\s+plate)?(?:\s+to)?\s+(\d[\d.,]*)\s*%$/i.exec(what) ?? []
  if (digits === undefined) return null
  const percent = Number(digits.replace(',', '.'))
  if (!(percent >= READ_PERCENT.least && percent <= READ_PERCENT.most))
    return failure(newSays['promise-share'](what, READ_PERCENT.least, READ_PERCENT.most))
  return success({ share: `${percent} %`, isPlate: plate !== undefined })
}

/** The promises without those that promise again what one before them does, though its distance may be written otherwise: `50'` is `50ft`. */
export function promisedOnce(promises: readonly NewPromise[]): NewPromise[] {
  const lengthOf = ({ at }: NewPromise): number => {
    const length = parseLength(at)
    return length.ok ? length.value : Number.NaN
  }
  return promises.filter(
    (one, index) =>
      !promises
        .slice(0, index)
        .some(
          (before) =>
            before.grade === one.grade &&
            before.read === one.read &&
            before.task === one.task &&
            lightOfWalk(one.light, [before.light]) !== null &&
            isSameMark(lengthOf(before), lengthOf(one)),
        ),
  )
}

/** A thing carried, as far as what can be told on it goes. */
export type CarriedThing = Pick<Carried, 'name' | 'reference'>

/**
 * The name of what is carried that a promise is told on: for reading a plate the plate, else a board, which shows detail as well; the
 * first thing carried where neither is. Null where only one thing is carried, which needs no naming.
 */
export function referenceForTask(task: Task | null, carried: readonly CarriedThing[]): string | null {
  if (carried.length < 2) return null
  const plate = carried.find(({ reference, name }) => isWritten(reference) || name.startsWith('characters'))
  const board = carried.find(({ reference }) => reference.kind === 'rectangle' && !isWritten(reference))
  const chosen = task === 'read a plate' ? (plate ?? board) : (board ?? plate)
  return (chosen ?? carried[0]!).name
}

function isWritten(reference: Reference): boolean {
  return reference.kind === 'rectangle' && !isChart(reference) && reference.marking === 'characters'
}
