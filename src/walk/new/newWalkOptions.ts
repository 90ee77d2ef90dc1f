import { basename, resolve } from 'node:path'
import { type ProofwalkError, ProofwalkErrors } from '../../errors.js'
import { fault } from '../../sentences.js'
import { builtInGradings } from '../../grade/gradings/builtInGradings.js'
import type { Outcome } from '../../math/outcome.js'
import { parseLength } from '../../units/parseLength.js'
import {
  date as dateSchema,
  focalLength as focalLengthSchema,
  sensor as sensorSchema,
} from '../schemas/fieldSchemas.js'
import type { MeasuredWith } from './measuredWith.js'
import { FIRST_ANSWERS } from './newQuestions.js'
import { parseNewPromise, promisedBy, promisedOnce, referenceForTask } from './newPromise.js'
import type { Carried, NewPromise, NewWalk } from './newWalk.js'
import { parseCarried } from './parseCarried.js'
import { newSays } from './sentences.js'
import { isSameMark } from '../read/sameMark.js'
import { readSays } from '../read/sentences.js'
import { lightAsWritten, lightMeant, lightOfWalk, usualLights } from '../read/walkWords.js'

/** What `new` takes on the command line, and the page that begins a walk, as typed. */
export interface NewOptions {
  readonly site?: string
  readonly client?: string
  readonly camera?: string
  readonly date?: string
  readonly feet?: true
  readonly metres?: true
  readonly still?: string
  readonly fieldOfView?: string
  readonly focalLength?: string
  readonly sensor?: string
  readonly mountHeight?: string
  readonly carry?: readonly string[]
  readonly measuredWith?: MeasuredWith
  readonly grading?: string
  readonly marks?: string
  readonly lights?: string
  readonly promise?: readonly string[]
}

/** What the options leave out and the caller knows: today, and the size of the still they name. */
export interface NewSurroundings {
  readonly today: string
  readonly image: { readonly width: number; readonly height: number } | null
}

/**
 * The walk the options of `new` describe.
 * @throws `ProofwalkErrors` with every option that is at fault
 */
export function newWalkOf(dir: string, options: NewOptions, { today, image }: NewSurroundings): NewWalk {
  const faults: ProofwalkError[] = []
  const feet = options.feet === true
  const folderName = basename(resolve(dir))
  const grading = options.grading ?? builtInGradings[0]!.grading.id
  checkFocalLength(options.focalLength, faults)
  checkGrading(grading, faults)
  const carried = carriedOf(options.carry, faults)
  const by = promisedBy(grading, feet ? 'imperial' : 'metric')
  const promises = promisedOnce(
    (options.promise ?? []).flatMap((text) => taken('--promise', parseNewPromise(text, by), faults) ?? []),
  )
  const lights = listed(options.lights ?? 'day, infrared').map(lightAsWritten)
  for (const { light } of promises) {
    if (lightOfWalk(light, lights) !== null) continue
    if (options.lights === undefined && lightOfWalk(light, usualLights) !== null)
      lights.push(lightAsWritten(light))
    else
      faults.push(
        fault(readSays['unknown-light'](light, lights, lightMeant(light, lights)), { field: '--promise' }),
      )
  }
  const marks = listed(options.marks ?? FIRST_ANSWERS[feet ? 'feet' : 'metres'].marks)
  for (const mark of marks) checkLength('--marks', mark, faults)
  checkSensor(options.sensor, faults)
  checkDate(options.date, today, faults)
  const fieldOfViewDeg = taken('--field-of-view', parseFieldOfView(options.fieldOfView), faults)
  checkLength('--mount-height', options.mountHeight, faults)
  if (faults.length > 0) throw new ProofwalkErrors(faults)
  return {
    site: options.site ?? folderName,
    client: options.client ?? null,
    date: options.date ?? null,
    cameraName: options.camera ?? folderName,
    feet,
    image,
    fieldOfViewDeg: fieldOfViewDeg!,
    focalLength: options.focalLength ?? null,
    mountHeight: options.mountHeight ?? null,
    sensor: options.sensor ?? null,
    carried,
    measuredWith: options.measuredWith ?? 'tape',
    grading,
    marks: withPromised(marks, promises),
    lights,
    promises: promises.map((one) => ({
      ...one,
      light: lightOfWalk(one.light, lights) ?? one.light,
      // Whatever is read counts.
      reference: one.read === undefined ? referenceForTask(one.task ?? null, carried) : null,
    })),
  }
}

/** The value of a sound outcome; null of another, whose fault joins the others. */
function taken<Value>(field: string, outcome: Outcome<Value>, faults: ProofwalkError[]): Value | null {
  if (outcome.ok) return outcome.value
  faults.push(fault(outcome, { field }))
  return null
}

function checkFocalLength(text: string | undefined, faults: ProofwalkError[]): void {
  const read = focalLengthSchema.safeParse(text)
  if (text === undefined || read.success) return
  const { message } = read.error.issues[0]!
  faults.push(fault({ code: 'bad-value', message }, { field: '--focal-length' }))
}

function checkGrading(grading: string, faults: ProofwalkError[]): void {
  const ids = builtInGradings.map((one) => one.grading.id)
  if (ids.includes(grading)) return
  faults.push(fault(newSays['unknown-grading'](grading, ids), { field: '--grading' }))
}

function carriedOf(texts: readonly string[] | undefined, faults: ProofwalkError[]): Carried[] {
  if (texts === undefined) faults.push(fault(newSays['carry-missing'](), { field: '--carry' }))
  const carried: Carried[] = []
  for (const text of texts ?? []) {
    const names = carried.map(({ name }) => name)
    const one = taken('--carry', parseCarried(text, names), faults)
    if (one !== null) carried.push(one)
  }
  return carried
}

function checkLength(field: string, text: string | undefined, faults: ProofwalkError[]): void {
  if (text === undefined) return
  const lengthM = taken(field, parseLength(text), faults)
  if (lengthM === null || lengthM > 0) return
  faults.push(fault(newSays['no-length'](text), { field }))
}

function checkSensor(text: string | undefined, faults: ProofwalkError[]): void {
  if (text === undefined || sensorSchema.safeParse(text).success) return
  faults.push(fault(newSays['bad-sensor'](text), { field: '--sensor' }))
}

function checkDate(text: string | undefined, today: string, faults: ProofwalkError[]): void {
  if (text === undefined || dateSchema('', '').safeParse(text).success) return
  faults.push(fault(newSays['bad-date'](text, today), { field: '--date' }))
}

/** A field of view as typed, `100`, `100 x 52` or `x 52`, degrees. */
export function parseFieldOfView(
  text: string | undefined,
): Outcome<{ readonly horizontal: number | null; readonly vertical: number | null }> {
  if (text === undefined) return { ok: true, value: { horizontal: null, vertical: null } }
  const parts = /^\s*(\d+(?:\.\d+)?)?\s*(?:x\s*(\d+(?:\.\d+)?))?\s*$/i.exec(text)
  const sides = [parts?.[1], parts?.[2]].map((side) => (side === undefined ? null : Number(side)))
  const sound = sides.every((side) => side === null || (side > 0 && side < 360))
  if (parts === null || !sound || sides.every((side) => side === null)) {
    return { ok: false, ...newSays['bad-field-of-view'](text) }
  }
  return { ok: true, value: { horizontal: sides[0] ?? null, vertical: sides[1] ?? null } }
}

function listed(text: string): string[] {
  return text
    .split(',')
    .map((one) => one.trim())
    .filter((one) => one !== '')
}

/** The marks with every promised distance among them, nearest first, each once. */
function withPromised(marks: readonly string[], promises: readonly NewPromise[]): string[] {
  const metres = (text: string) => {
    const length = parseLength(text)
    return length.ok ? length.value : Number.NaN
  }
  const all = [...marks]
  for (const { at } of promises) if (!all.some((mark) => isSameMark(metres(mark), metres(at)))) all.push(at)
  return all.sort((a, b) => metres(a) - metres(b))
}
