import type { BeginRequest, BeginView } from '../../beginApi.js'

/** What the camera must do: a task at a distance in a light. */
export interface Wish {
  readonly task: string
  /** Null: as proposed. */
  readonly at: string | null
  readonly light: string
}

/** The fields as they stand; null where one is still as proposed, which goes by feet or metres. */
export interface Answers {
  readonly folder: string
  readonly site: string
  readonly client: string
  readonly camera: string
  readonly units: 'metres' | 'feet'
  readonly carried: string
  readonly plate: string
  readonly board: string | null
  readonly paper: string
  readonly staff: string | null
  readonly measuredWith: string
  readonly edition: string
  readonly marks: string | null
  readonly lights: readonly string[]
  readonly wishes: readonly Wish[]
}

export function firstAnswers({ folder, plates, papers, editions }: BeginView): Answers {
  return {
    folder: folder ?? '',
    site: '',
    client: '',
    camera: '',
    units: 'metres',
    carried: 'board',
    plate: plates[0]!.value,
    board: null,
    paper: papers.find(({ value }) => value === 'A2')?.value ?? papers[0]!.value,
    staff: null,
    measuredWith: 'tape',
    edition: editions[0]!.value,
    marks: null,
    lights: ['day', 'infrared'],
    wishes: [],
  }
}

/** The answers as `proofwalk new` takes them. */
export function requestOf(view: BeginView, answers: Answers): BeginRequest {
  const { units, folder, site, client, camera, lights, wishes } = answers
  const first = view.first[units]
  const lit = [...new Set([...lights, ...wishes.map(({ light }) => light)])]
  return {
    folder: view.folder === null ? null : folder,
    ...{ site, client, camera },
    feet: units === 'feet',
    carry: carryOf(view, answers),
    measuredWith: answers.measuredWith as BeginRequest['measuredWith'],
    grading: answers.edition,
    marks: answers.marks ?? first.marks,
    lights: lit.join(', '),
    promise: wishes.map(({ task, at, light }) => `${task} at ${at ?? first.at} in ${light}`),
  }
}

function carryOf(view: BeginView, answers: Answers): readonly string[] {
  const first = view.first[answers.units]
  const board = answers.board ?? first.board
  switch (answers.carried) {
    case 'plate':
      return [answers.plate]
    case 'both':
      return [answers.plate, board]
    case 'chart':
      return [`chart ${answers.paper}`]
    case 'staff':
      return [answers.staff ?? first.staff]
    default:
      return [board]
  }
}

/** Whether something is wished that takes detail, and nothing is carried that shows it. */
export function lacksDetail({ carried, wishes }: Answers): boolean {
  const takesDetail = wishes.some(({ task, light }) => task !== 'notice movement' || light !== 'day')
  return (carried === 'plate' || carried === 'staff') && takesDetail
}
