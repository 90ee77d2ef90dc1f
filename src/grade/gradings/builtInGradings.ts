import type { Grading } from './grading.js'
import edition2014 from './iec-62676-4-2014.json' with { type: 'json' }
import edition2025 from './iec-62676-4-2025.json' with { type: 'json' }

/** What the buyer wants done, in the words the tool asks it with. */
export type Task = 'read a plate' | 'know a face' | 'notice movement'

/** Which grade a task asks for in one grading, and on what ground. */
interface TaskGrade {
  readonly task: Task
  readonly grade: string
  readonly note: string
}

/** A grading that comes with the tool. `status` says whether it is in force and how its figures were checked. */
export interface BuiltInGrading {
  readonly grading: Grading
  readonly status: string
  /** The day it was withdrawn; null where it is in force. */
  readonly withdrawn: string | null
  readonly tasks: readonly TaskGrade[]
}

interface GradingFile extends Grading {
  readonly status: string
  readonly withdrawn?: string
  readonly tasks: readonly { readonly task: string; readonly grade: string; readonly note: string }[]
}

const TASKS: readonly Task[] = ['read a plate', 'know a face', 'notice movement']

function builtIn({ status, withdrawn, tasks, ...grading }: GradingFile): BuiltInGrading {
  const asked = TASKS.flatMap((task) =>
    tasks.filter((entry) => entry.task === task).map(({ grade, note }) => ({ task, grade, note })),
  )
  return { grading, status, withdrawn: withdrawn ?? null, tasks: asked }
}

/** The gradings that come with the tool, the default first; each carries its published source. */
export const builtInGradings: readonly BuiltInGrading[] = [builtIn(edition2014), builtIn(edition2025)]

/** The built-in grading of that id, or null. */
export function builtInGrading(id: string): Grading | null {
  return builtInGradings.find(({ grading }) => grading.id === id)?.grading ?? null
}
