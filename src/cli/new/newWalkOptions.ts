import { basename, resolve } from 'node:path'
import { ProofwalkError, ProofwalkErrors } from '../../errors.js'
import { builtInGradings } from '../../grade/gradings/builtInGradings.js'
import type { Outcome } from '../../math/outcome.js'
import { parseLength } from '../../units/parseLength.js'
import {
  date as dateSchema,
  focalLength as focalLengthSchema,
  sensor as sensorSchema,
} from '../../walk/schemas/fieldSchemas.js'
import type { MeasuredWith } from '../../walk/new/measuredWith.js'
import { parseNewPromise, referenceForTask } from '../../walk/new/newPromise.js'
import type { Carried, NewPromise, NewWalk } from '../../walk/new/newWalk.js'
import { parseCarried } from '../../walk/new/parseCarried.js'
import { isSameMark } from '../../walk/read/sameMark.js'
import { mendByNearest } from '../../files/suggestNearest.js'
import { lightAsWritten, lightOfWalk } from '../../walk/read/walkWords.js'

/** What `new` takes on the command line, as typed. */
export interface NewOptions {
  readonly site?: string
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

const MARKS_M = [4, 6, 9, 12, 16, 20]
const MARKS_FT = [12, 20, 30, 40, 50, 65]

/** What the options leave out and the caller knows: today, and the size of the still they name. */
export interface NewSurroundings {
  readonly today: string
  readonly image: { readonly width: number; readonly height: number } | null
}

/** The walk the options of `new` describe. Throws `ProofwalkErrors` with every option that is at fault. */
export function newWalkOf(dir: string, options: NewOptions, surroundings: NewSurroundings): NewWalk {
  const faults: ProofwalkError[] = []
  const take = <Value>(field: string, outcome: Outcome<Value>, otherwise: Value): Value => {
    if (outcome.ok) return outcome.value
    faults.push(new ProofwalkError(outcome.code, outcome.message, { field }))
    return otherwise
  }
  const complain = (field: string, code: string, message: string, mend: string) =>
    void faults.push(new ProofwalkError(code, message, { field, mend }))
  const aLength = (field: string, text: string | undefined): string | null => {
    if (text !== undefined && take(field, parseLength(text), 1) <= 0) {
      complain(field, 'no-length', `"${text}" is no length`, 'write one above 0')
    }
    return text ?? null
  }
  const { focalLength } = options
  const lens = focalLength === undefined ? null : focalLengthSchema.safeParse(focalLength)
  if (lens?.success === false) {
    const message = lens.error.issues[0]!.message
    faults.push(new ProofwalkError('bad-value', message, { field: '--focal-length' }))
  }
  const feet = options.feet === true
  const folderName = basename(resolve(dir))
  const grading = options.grading ?? builtInGradings[0]!.grading.id
  const ids = builtInGradings.map((one) => one.grading.id)
  if (!ids.includes(grading)) {
    complain(
      '--grading',
      'unknown-grading',
      `"${grading}" is no built-in grading`,
      mendByNearest(grading, ids),
    )
  }
  const carried: Carried[] = []
  for (const text of options.carry ?? []) {
    const one = take<Carried | null>(
      '--carry',
      parseCarried(
        text,
        carried.map(({ name }) => name),
      ),
      null,
    )
    if (one !== null) carried.push(one)
  }
  if (options.carry === undefined) {
    const mend =
      'give --carry plate-eu, --carry 600x400mm, --carry 2m or --carry "chart A2", or run it on a terminal to be asked'
    complain('--carry', 'option-missing', 'what is carried must be told', mend)
  }
  const promises: NewPromise[] = []
  for (const text of options.promise ?? []) {
    const one = take<NewPromise | null>('--promise', parseNewPromise(text, grading), null)
    if (one !== null) promises.push(one)
  }
  const lights = listed(options.lights ?? 'day, infrared').map(lightAsWritten)
  for (const { light } of promises)
    if (lightOfWalk(light, lights) === null) lights.push(lightAsWritten(light))
  const marks = listed(
    options.marks ??
      (feet ? MARKS_FT.map((mark) => `${mark} ft`) : MARKS_M.map((mark) => `${mark} m`)).join(', '),
  )
  for (const mark of marks) aLength('--marks', mark)
  const sensor = options.sensor ?? null
  if (sensor !== null && !sensorSchema.safeParse(sensor).success) {
    complain(
      '--sensor',
      'bad-value',
      `"${sensor}" is neither an inch type nor a size`,
      'write 1/2.8 or "5.6 x 3.1 mm"',
    )
  }
  if (options.date !== undefined && !dateSchema('', '').safeParse(options.date).success) {
    const mend = `write it as YYYY-MM-DD, such as ${surroundings.today}`
    complain('--date', 'bad-value', `"${options.date}" is no date`, mend)
  }
  const walk: NewWalk = {
    site: options.site ?? folderName,
    date: options.date ?? surroundings.today,
    cameraName: options.camera ?? folderName,
    feet,
    image: surroundings.image,
    fieldOfViewDeg: take('--field-of-view', parseFieldOfView(options.fieldOfView), {
      horizontal: null,
      vertical: null,
    }),
    focalLength: options.focalLength ?? null,
    mountHeight: aLength('--mount-height', options.mountHeight),
    sensor,
    carried,
    measuredWith: options.measuredWith ?? 'tape',
    grading,
    marks: faults.length > 0 ? marks : withPromised(marks, promises),
    lights,
    promises: promises.map((one) => ({
      ...one,
      light: lightOfWalk(one.light, lights) ?? one.light,
      reference: referenceForTask(one.task ?? null, carried),
    })),
  }
  if (faults.length > 0) throw new ProofwalkErrors(faults)
  return walk
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
    const message = `"${text}" is no field of view; write 100 or "100 x 52", degrees`
    return { ok: false, code: 'bad-field-of-view', message }
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
