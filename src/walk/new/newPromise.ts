import { builtInGradings, type Task } from '../../grade/gradings/builtInGradings.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { parseLength } from '../../units/parseLength.js'
import type { Carried, NewPromise } from './newWalk.js'
import { newSays } from './sentences.js'
import { gradeOfGrading } from '../read/walkWords.js'

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

/** The grade a task asks for in a built-in grading. */
export function gradeForTask(task: Task, gradingId: string): AskedGrade {
  const { grading, tasks } =
    builtInGradings.find((one) => one.grading.id === gradingId) ?? builtInGradings[0]!
  const { grade, note } = tasks.find((one) => one.task === task)!
  const limit = grading.grades.find(({ id }) => id === grade)!.limit
  const short = `${grade}, ${limit} px/m by ${grading.name}`
  return { grade, short, because: `to ${task}: ${short} (${note})` }
}

/**
 * Reads what the camera must do as `new` takes it: `read a plate at 16 m in day`, or with a grade,
 * `recognise at 45 ft under infrared`; before the light stands in, by, at, under or a comma. The grading is a built-in one.
 */
export function parseNewPromise(text: string, gradingId: string): Outcome<NewPromise, 'bad-promise'> {
  const parts =
    /^\s*(\S.*?)\s+at\s+(\S.*?)(?:\s*,\s*(?!\d)(?:(?:in|by|at|under)\s+)?|\s+(?:in|by|at|under)\s+)(\S.*?)\s*$/i.exec(
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
  const built = builtInGradings.find((one) => one.grading.id === gradingId) ?? builtInGradings[0]!
  const task = built.tasks.find((one) => one.task === what.toLowerCase())
  if (task !== undefined) {
    const { grade, because } = gradeForTask(task.task, gradingId)
    return success({ grade, at, light, because, task: task.task })
  }
  const grade = gradeOfGrading(what, built.grading)
  if (grade !== null) return success({ grade, at, light, because: null, task: null })
  const known = [...built.tasks.map((one) => one.task), ...built.grading.grades.map(({ id }) => id)]
  return failure(newSays['unknown-task'](what, known))
}

/**
 * The name of what is carried that a promise is told on: for reading a plate the plate, else a board, which shows detail as well; the
 * first thing carried where neither is. Null where only one thing is carried, which needs no naming.
 */
export function referenceForTask(task: Task | null, carried: readonly Carried[]): string | null {
  if (carried.length < 2) return null
  const plate = carried.find(({ name }) => /^(plate|characters)\b/.test(name))
  const board = carried.find(({ name }) => !/^(plate|characters|staff)\b/.test(name))
  const chosen = task === 'read a plate' ? (plate ?? board) : (board ?? plate)
  return (chosen ?? carried[0]!).name
}
