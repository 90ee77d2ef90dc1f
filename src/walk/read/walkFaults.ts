import type { ProofwalkError } from '../../errors.js'
import type { Grading } from '../../grade/gradings/grading.js'
import { referencePresets } from '../../measure/reference/referencePresets.js'
import { parseLength } from '../../units/parseLength.js'
import { farFromStart, isSameMark } from './sameMark.js'
import { chartFaults } from './chartFaults.js'
import { fieldFault, type FaultyFile } from '../../files/schemaFaults.js'
import type { Said } from '../../sentences.js'
import { readSays } from './sentences.js'
import { groupOf, groupsOf, listOf, type Row, textsOf } from './writtenParts.js'
import { gradeOfGrading, lightMeant, lightOfWalk } from './walkWords.js'

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
  const tell: Tell = (path, said) => fieldFault(of, path, said)
  return [
    ...unknownPresets(references, tell),
    ...Object.keys(references).flatMap((name) => chartFaults(of, name, groupOf(references[name]))),
    ...twice(lights, (a, b) => a.trim() !== '' && lightOfWalk(a, [b]) !== null).map((index) =>
      tell(['lights', index], readSays['duplicate-light'](lights[index]!)),
    ),
    ...twice(marksOf(walk.marks), isSameMark).map((index) =>
      tell(['marks', index], readSays['duplicate-mark']()),
    ),
    ...(grading === null ? [] : unknownGrades(promises, grading, tell)),
    ...unknownLights('promises', promises, lights, tell),
    ...unknownReferences('promises', promises, references, tell),
    ...unknownReferences('stills', stills, references, tell),
    ...twice(stills, (a, b) => a.group.file === b.group.file).map((index) =>
      tell(['stills', index, 'file'], readSays['duplicate-still']()),
    ),
    ...stills.flatMap(({ index, group: { file, sameAs } }) =>
      sameAs !== undefined && sameAs === file
        ? [tell(['stills', index, 'sameAs'], readSays['same-as-itself']())]
        : [],
    ),
    ...(beginsTooFar(walk) ? [tell(['distance', 'begins'], readSays['begins-too-far']())] : []),
    ...unknownLights('observations', groupsOf(walk.observations), lights, tell),
    ...unknownLights('conditions', groupsOf(walk.conditions), lights, tell),
  ]
}

type Tell = (path: readonly PropertyKey[], said: Said) => ProofwalkError

function unknownPresets(references: Record<string, unknown>, tell: Tell): ProofwalkError[] {
  const ids = referencePresets.map(({ id }) => id)
  return Object.entries(references).flatMap(([name, reference]) => {
    const { preset } = groupOf(reference)
    if (typeof preset !== 'string' || ids.includes(preset)) return []
    return [tell(['references', name, 'preset'], readSays['unknown-preset'](preset, ids))]
  })
}

function unknownGrades(promises: readonly Row[], grading: Grading, tell: Tell): ProofwalkError[] {
  const ids = grading.grades.map(({ id }) => id)
  return promises.flatMap(({ index, group }) => {
    const key = 'atMost' in group ? 'atMost' : 'grade'
    const grade = group[key]
    if (typeof grade !== 'string' || gradeOfGrading(grade, grading) !== null) return []
    return [tell(['promises', index, key], readSays['unknown-grade'](grade, grading.name, ids))]
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
    return [tell([key, index, 'light'], readSays['unknown-light'](light, lights, lightMeant(light, lights)))]
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
    const known = Object.keys(references)
    return [tell([key, index, 'reference'], readSays['unnamed-reference'](reference, known))]
  })
}

/** The places of those that equal one before them. */
function twice<Item>(items: readonly Item[], same: (a: Item, b: Item) => boolean): number[] {
  return items.flatMap((item, index) => (items.slice(0, index).some((one) => same(one, item)) ? [index] : []))
}

/** Whether the tape begins too far off the lens for one of the distances written. */
function beginsTooFar(walk: Record<string, unknown>): boolean {
  const { begins } = groupOf(walk.distance)
  const [beginsM] = marksOf([typeof begins === 'string' ? begins.replace(/^\s*[-\u2212]/, '') : null])
  const rows = [...groupsOf(walk.stills), ...groupsOf(walk.observations)].map(({ group }) => group.mark)
  return marksOf([...listOf(walk.marks), ...rows]).some(
    (markM) => markM > 0 && beginsM! > 0 && !farFromStart(markM, beginsM!),
  )
}

/** Marks in metres, NaN (which is one with nothing) where a mark could not be read. */
function marksOf(value: unknown): number[] {
  return listOf(value).map((mark) => {
    const length = typeof mark === 'string' ? parseLength(mark) : null
    return length?.ok ? length.value : Number.NaN
  })
}
