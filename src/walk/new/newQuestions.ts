import { CHART_PAPERS } from '../../chart/printed/chartPapers.js'
import { builtInGradings, type Task } from '../../grade/gradings/builtInGradings.js'
import { referencePresets } from '../../measure/reference/referencePresets.js'
import { type MeasuredWith, measuringTools } from './measuredWith.js'
import { gradeForTask, type PromisedBy } from './newPromise.js'

/** One choice of several, with what stands beside it. */
export interface NewChoice<Value extends string = string> {
  readonly value: Value
  readonly label: string
  readonly hint?: string
}

/** The editions of the standard that buyer and seller may have agreed on: its table judges. */
export const editionChoices: readonly NewChoice[] = builtInGradings.map(
  ({ grading: { id, name }, withdrawn }) => ({
    value: id,
    label: name,
    hint: withdrawn === null ? 'in force' : `withdrawn on ${withdrawn}`,
  }),
)

/** What is carried from mark to mark, by kind. */
export const CARRIED_KINDS = [
  { value: 'plate', label: 'a number plate', hint: 'tells pixels, but no detail: it has no quiet edge' },
  { value: 'board', label: 'an even board', hint: 'tells pixels and detail' },
  { value: 'both', label: 'a plate and a board', hint: 'what a buyer asks about, and detail' },
  { value: 'chart', label: 'the printed chart', hint: 'found by itself; tells pixels, detail and tone' },
  { value: 'staff', label: 'a staff', hint: 'a straight length; tells pixels' },
] as const satisfies readonly NewChoice[]

/** The plates, and characters of plates, whose size is built in. */
export const plateChoices: readonly NewChoice[] = referencePresets
  .filter(({ id }) => /^(plate|characters)-/.test(id))
  .map(({ id, name }) => ({ value: id, label: name, hint: id }))

export const chartChoices: readonly NewChoice[] = CHART_PAPERS.map(({ id, name }) => ({
  value: id,
  label: name,
}))

/** Ways to measure distances, and what each is taken as right to. */
export function toolChoices(feet: boolean): readonly NewChoice<MeasuredWith>[] {
  return (Object.keys(measuringTools) as MeasuredWith[]).map((way) => ({
    value: way,
    label: way,
    hint: `taken as right to ${feet ? measuringTools[way].toleranceInFeet : measuringTools[way].tolerance}`,
  }))
}

/** What a camera may have to do, each with the grade that a grading asks for it. */
export function taskChoices(by: PromisedBy): readonly NewChoice<Task>[] {
  return (['read a plate', 'know a face', 'notice movement'] as const).map((task) => ({
    value: task,
    label: task,
    hint: gradeForTask(task, by).short,
  }))
}

export const LIGHT_CHOICES = [
  { value: 'day', label: 'day' },
  { value: 'dark', label: 'dark', hint: 'no lamp, no infrared' },
  { value: 'infrared', label: 'infrared' },
  { value: 'lamp', label: 'lamp' },
] as const satisfies readonly NewChoice[]

/** What stands in the fields before anybody writes in them, in metres or in feet. */
export const FIRST_ANSWERS = {
  metres: { board: '600x400mm', staff: '2 m', at: '16 m', marks: '4 m, 6 m, 9 m, 12 m, 16 m, 20 m' },
  feet: { board: '24x16in', staff: '6 ft', at: '50 ft', marks: '12 ft, 20 ft, 30 ft, 40 ft, 50 ft, 65 ft' },
} as const
