import type { MeasuredWalk, WalkResults } from '../../walk/schemas/resultsSchema.js'
import { INCH_M } from '../../units/formatLength.js'
import { type Figures, trimmed } from '../../units/figures.js'

/** What the title block and the running heads print of the walk; null where the walk does not say. */
export interface WalkFacts {
  readonly site: string
  readonly camera: string
  readonly date: string | null
  readonly dateFrom: 'walk' | 'stills' | null
  readonly client: string | null
  readonly walkedBy: string | null
  readonly measuredBy: string | null
  readonly issuer: string | null
  /** Per light, what the walk says of it. */
  readonly conditions: readonly { readonly light: string; readonly text: string }[]
  readonly notes: string | null
  /** Camera id, serial and settings, where given: a label and a text. */
  readonly cameraDetails: readonly (readonly [string, string])[]
  readonly judge: 'pixels' | 'detail'
}

/** The facts of a walk as they are printed. */
export function walkFacts({ walk }: WalkResults): WalkFacts {
  const { people, camera } = walk
  const details: readonly (readonly [string, string | null])[] = [
    ['id', camera.id],
    ['serial', camera.serial],
    ['settings', camera.settings],
  ]
  return {
    site: walk.site,
    camera: camera.name,
    date: walk.date,
    dateFrom: walk.dateFrom,
    client: said(people.client),
    walkedBy: said(people.walkedBy),
    measuredBy: said(people.measuredBy),
    issuer: said(walk.issuer.name),
    conditions: walk.conditions.flatMap(({ light, note, illuminance }) => {
      const text = [said(note), said(illuminance)].filter((part) => part !== null).join(', ')
      return text === '' ? [] : [{ light, text }]
    }),
    notes: said(walk.notes),
    cameraDetails: details.flatMap(([key, value]) => {
      const text = said(value)
      return text === null ? [] : [[key, text] as const]
    }),
    judge: walk.judge,
  }
}

function said(text: string | null): string | null {
  return text === null || text.trim() === '' ? null : text
}

/** A reference's size in words: "board 600 x 400 mm (within 1 mm)", in an imperial walk with its inches before. */
export function referenceText(
  name: string,
  reference: MeasuredWalk['references'][string],
  { isMetric }: Figures,
): string {
  const mm = (lengthM: number): string => trimmed(lengthM * 1000, 1)
  const inches = (...sidesM: readonly number[]): string =>
    isMetric ? '' : `${sidesM.map((sideM) => trimmed(sideM / INCH_M, 2)).join(' × ')} in, `
  const within = (toleranceM: number): string => `within ${inches(toleranceM)}${mm(toleranceM)} mm`
  if ('length' in reference) {
    return `${name} ${inches(reference.length)}${mm(reference.length)} mm (${within(reference.tolerance)})`
  }
  if ('chart' in reference) {
    const printed = reference.printedWidth === null ? 'assumed printed at true scale' : 'frame as measured'
    return `${name}, the printed chart on ${reference.chart}, frame ${inches(reference.width, reference.height)}${mm(reference.width)} × ${mm(reference.height)} mm (${printed}, ${within(reference.widthTolerance)})`
  }
  const tolerance = Math.max(reference.widthTolerance, reference.heightTolerance)
  return `${name} ${inches(reference.width, reference.height)}${mm(reference.width)} × ${mm(reference.height)} mm (${within(tolerance)})`
}

/** A grade as printed: its name, "no grade" where no limit is reached, "not judged" where it could not be told. */
export function gradeText(
  grading: { readonly grades: readonly { readonly id: string; readonly name: string }[] },
  id: string | null,
): string {
  if (id === null) return 'not judged'
  if (id === 'none') return 'no grade'
  return grading.grades.find((grade) => grade.id === id)?.name ?? id
}
