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
  const writtenLights = textsOf(walk.lights)
  const lights = writtenLights.filter((light) => light.trim() !== '')
  const references = groupOf(walk.references)
  const promises = groupsOf(walk.promises)
  const stills = groupsOf(walk.stills)
  const fault = (path: Path, code: string, message: string, mend: string) =>
    fieldFault(of, path, code, message, mend)

  const unknownLight = (key: string, rows: readonly Row[]) =>
    rows.flatMap(({ index, group: { light } }) =>
      typeof light !== 'string' || lights.length === 0 || lightOfWalk(light, lights) !== null
        ? []
        : [
            fault(
              [key, index, 'light'],
              'unknown-light',
              `"${light}" is none of the lights`,
              lightMend(light, lights),
            ),
          ],
    )
  const unknownReference = (key: string, rows: readonly Row[]) =>
    rows.flatMap(({ index, group: { reference } }) => {
      if (typeof reference !== 'string' || Object.hasOwn(references, reference)) return []
      const mend = mendByNearest(reference, Object.keys(references))
      return [
        fault([key, index, 'reference'], 'unknown-reference', `"${reference}" is not under references`, mend),
      ]
    })

  return [
    ...Object.entries(references).flatMap(([name, reference]) => {
      const preset = groupOf(reference).preset
      if (typeof preset !== 'string' || referencePresets.some(({ id }) => id === preset)) return []
      const near = suggestNearest(
        preset,
        referencePresets.map(({ id }) => id),
      )
      const mend = near === null ? 'list references shows them all' : `did you mean ${near}?`
      return [fault(['references', name, 'preset'], 'unknown-preset', `"${preset}" is no preset`, mend)]
    }),
    ...Object.keys(references).flatMap((name) => chartFaults(of, name, groupOf(references[name]))),
    ...twice(writtenLights, (a, b) => a.trim() !== '' && lightOfWalk(a, [b]) !== null).map((index) =>
      fault(
        ['lights', index],
        'duplicate-light',
        `"${writtenLights[index]}" stands there twice`,
        'delete one',
      ),
    ),
    ...twice(marksOf(walk.marks), (a, b) => isSameMark(a, b)).map((index) =>
      fault(
        ['marks', index],
        'duplicate-mark',
        'is one with a mark before it (within 0.01 m)',
        'delete or correct it',
      ),
    ),
    ...promises.flatMap(({ index, group: { grade } }) => {
      if (typeof grade !== 'string' || grading === null || gradeOfGrading(grade, grading) !== null) return []
      const mend = mendByNearest(
        grade,
        grading.grades.map(({ id }) => id),
      )
      return [
        fault(
          ['promises', index, 'grade'],
          'unknown-grade',
          `"${grade}" is no grade of ${grading.name}`,
          mend,
        ),
      ]
    }),
    ...unknownLight('promises', promises),
    ...unknownReference('promises', promises),
    ...unknownReference('stills', stills),
    ...twice(stills, (a, b) => a.group.file === b.group.file).map((index) =>
      fault(['stills', index, 'file'], 'duplicate-still', 'is named twice', 'keep one of the two'),
    ),
    ...unknownLight('observations', groupsOf(walk.observations)),
    ...unknownLight('conditions', groupsOf(walk.conditions)),
  ]
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
