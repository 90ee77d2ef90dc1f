import type { WalkFinding } from '../../grade/judgement.js'
import { groupBy } from '../../math/groupBy.js'
import { problem } from '../../sentences.js'
import type { MeasuredWalk } from '../schemas/resultsSchema.js'
import { stillsSays } from './sentences.js'

/** A still, as far as it says when it was taken; the time is that of its camera's clock. */
export interface DatedStill {
  readonly file: string
  readonly light: string
  readonly takenAt: string | null
  readonly sameAs: string | null
}

/** The date of a walk, what it was taken from, and each light whose stills say another. */
export interface DateOfWalk extends Pick<MeasuredWalk, 'date' | 'dateFrom'> {
  readonly findings: readonly WalkFinding[]
}

/** One still does not date a walk. */
const LEAST_STILLS = 2

/**
 * The date that walk.yaml says, else the one that names and clocks of the stills agree on: at least two stills, and none that says another.
 * Where they contradict it or one another, that is found, light by light.
 */
export function dateOfWalk(written: string | null, stills: readonly DatedStill[]): DateOfWalk {
  const once = [...new Map(stills.map((still) => [still.file, still])).values()]
  const said = once.filter(({ sameAs }) => sameAs === null).flatMap(datesOf)
  const days = [...new Set(said.map(({ day }) => day))]
  const agreed = days.length === 1 && new Set(said.map(({ file }) => file)).size >= LEAST_STILLS
  const date = written ?? (agreed ? days[0]! : null)
  const contradicted = [...groupBy(said, ({ light }) => light)].filter(([, of]) =>
    written === null ? days.length > 1 : of.some(({ day }) => day !== written),
  )
  const findings = contradicted.map(([light, of]) => {
    const told = [...groupBy(of, ({ day }) => day)].sort(([one], [other]) => (one < other ? -1 : 1))
    const words = told.map(([day, those]) => {
      const by = (source: Said['by']): number => those.filter((one) => one.by === source).length
      return { day, names: by('name'), clocks: by('clock') }
    })
    return { ...problem(stillsSays['dates-differ'](light, words, written)), light }
  })
  return { date, dateFrom: date === null ? null : written === null ? 'stills' : 'walk', findings }
}

interface Said {
  readonly file: string
  readonly light: string
  readonly day: string
  readonly by: 'name' | 'clock'
}

function datesOf({ file, light, takenAt }: DatedStill): Said[] {
  const named = dayInName(file)
  return [
    ...(named === null ? [] : [{ file, light, day: named, by: 'name' as const }]),
    ...(takenAt === null ? [] : [{ file, light, day: takenAt.slice(0, 10), by: 'clock' as const }]),
  ]
}

/** The day in the name of a still, year first (`2026-03-14`, `20260314`, a time behind it or not); null where there is none, or two. */
function dayInName(file: string): string | null {
  const name = file.slice(file.lastIndexOf('/') + 1)
  const days = [...name.matchAll(/(?<!\d)(\d{4})([-_.]?)(\d\d)\2(\d\d)(?=\D|$|\d{4}(?:\d\d)?(?:\D|$))/g)]
    .map(([, year, , month, day]) => `${year}-${month}-${day}`)
    .filter((day) => /^(?:19|20)/.test(day) && new Date(`${day}T00:00Z`).toJSON()?.startsWith(day) === true)
  return new Set(days).size === 1 ? days[0]! : null
}
