import type { ProofwalkError } from '../../errors.js'
import type { Grading } from '../../grade/gradings/grading.js'
import { referencePresets } from '../../measure/reference/referencePresets.js'
import { parseLength } from '../../units/parseLength.js'
import { isSameMark } from './sameMark.js'
import { chartFaults } from './chartFaults.js'
import { fieldFault, type FaultyFile } from '../../files/schemaFaults.js'
import { mendByNearest, suggestNearest } from '../../files/suggestNearest.js'
import { gradeOfGrading, lightOfWalk, nearestLight } from './walkWords.js'

type Path = readonly PropertyKey[]

/**
 * The faults of a walk that lie between its fields: names that nothing has, things that stand twice. It reads the
 * walk as it was written and passes over what has no sound shape, so that these faults and those of the schema are
 * told together. `grading` is null where it could not be read; then grades are not checked.
 */
export function walkFaults(of: FaultyFile, grading: Grading | null): ProofwalkError[] {
  const walk = groupOf(of.contents)
  const lights = textsOf(walk.lights)
  const references = groupOf(walk.references)
  const promises = groupsOf(walk.promises)
  const stills = groupsOf(walk.stills)
  const tell: Tell = (path, code, message, mend) => fieldFault(of, path, code, message, mend)
  return [
    ...unknownPresets(references, tell),
    ...Object.keys(references).flatMap((name) => chartFaults(of, name, groupOf(references[name]))),
    ...twice(lights, (a, b) => a.trim() !== '' && lightOfWalk(a, [b]) !== null).map((index) =>
      tell(['lights', index], 'duplicate-light', `"${lights[index]}" stands there twice`, 'delete one'),
    ),
    ...twice(marksOf(walk.marks), isSameMark).map((index) => {
      const message = 'is one with a mark before it (within 0.01 m)'
      return tell(['marks', index], 'duplicate-mark', message, 'delete or correct it')
    }),
    ...(grading === null ? [] : unknownGrades(promises, grading, tell)),
    ...unknownLights('promises', promises, lights, tell),
    ...unknownReferences('promises', promises, references, tell),
    ...unknownReferences('stills', stills, references, tell),
    ...twice(stills, (a, b) => a.group.file === b.group.file).map((index) =>
      tell(['stills', index, 'file'], 'duplicate-still', 'is named twice', 'keep one of the two'),
    ),
    ...stills.flatMap(({ index, group: { file, sameAs } }) =>
      sameAs !== undefined && sameAs === file
        ? [
            tell(
              ['stills', index, 'sameAs'],
              'same-as-itself',
              'is the still itself',
              'name another, or delete it',
            ),
          ]
        : [],
    ),
    ...unknownLights('observations', groupsOf(walk.observations), lights, tell),
    ...unknownLights('conditions', groupsOf(walk.conditions), lights, tell),
  ]
}

type Tell = (path: Path, code: string, message: string, mend: string) => ProofwalkError

function unknownPresets(references: Record<string, unknown>, tell: Tell): ProofwalkError[] {
  const ids = referencePresets.map(({ id }) => id)
  return Object.entries(references).flatMap(([name, reference]) => {
    const { preset } = groupOf(reference)
    if (typeof preset !== 'string' || ids.includes(preset)) return []
    const near = suggestNearest(preset, ids)
    const mend = near === null ? 'list references shows them all' : `did you mean ${near}?`
    return [tell(['references', name, 'preset'], 'unknown-preset', `"${preset}" is no preset`, mend)]
  })
}

function unknownGrades(promises: readonly Row[], grading: Grading, tell: Tell): ProofwalkError[] {
  const ids = grading.grades.map(({ id }) => id)
  return promises.flatMap(({ index, group: { grade } }) => {
    if (typeof grade !== 'string' || gradeOfGrading(grade, grading) !== null) return []
    const message = `"${grade}" is no grade of ${grading.name}`
    return [tell(['promises', index, 'grade'], 'unknown-grade', message, mendByNearest(grade, ids))]
  })
}

function unknownLights(
  key: string,
  rows: readonly Row[],
  writtenLights: readonly string[],
  tell: Tell,
): ProofwalkError[] {
  const lights = writtenLights.filter((light) => light.trim() !== '')
  return rows.flatMap(({ index, group: { light } }) => {
    if (typeof light !== 'string' || lights.length === 0 || lightOfWalk(light, lights) !== null) return []
    const message = `"${light}" is none of the lights`
    return [tell([key, index, 'light'], 'unknown-light', message, lightMend(light, lights))]
  })
}

function unknownReferences(
  key: string,
  rows: readonly Row[],
  references: Record<string, unknown>,
  tell: Tell,
): ProofwalkError[] {
  return rows.flatMap(({ index, group: { reference } }) => {
    if (typeof reference !== 'string' || Object.hasOwn(references, reference)) return []
    const mend = mendByNearest(reference, Object.keys(references))
    const message = `"${reference}" is not under references`
    return [tell([key, index, 'reference'], 'unknown-reference', message, mend)]
  })
}

function lightMend(light: string, lights: readonly string[]): string {
  const near = nearestLight(light, lights)
  if (near !== null && near !== light) {
    return lightOfWalk(near, lights) === null
      ? `did you mean ${near}? add that to lights as well`
      : `did you mean ${near}?`
  }
  return `add it to lights, or use ${lights.join(' or ')}`
}

/** The places of those that equal one before them. */
function twice<Item>(items: readonly Item[], same: (a: Item, b: Item) => boolean): number[] {
  return items.flatMap((item, index) => (items.slice(0, index).some((one) => same(one, item)) ? [index] : []))
}

/** Marks in metres, NaN (which is one with nothing) where a mark could not be read. */
function marksOf(value: unknown): number[] {
  return listOf(value).map((mark) => {
    const length = typeof mark === 'string' ? parseLength(mark) : null
    return length?.ok ? length.value : Number.NaN
  })
}

interface Row {
  readonly index: number
  readonly group: Record<string, unknown>
}

function groupsOf(value: unknown): Row[] {
  return listOf(value).map((one, index) => ({ index, group: groupOf(one) }))
}

function textsOf(value: unknown): string[] {
  return listOf(value).map((one) => (typeof one === 'string' ? one : ''))
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : []
}

function groupOf(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
}
