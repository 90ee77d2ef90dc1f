import type { MarkMeasurement } from '../marks/markMeasurement.js'
import type { FittedMark } from '../range/rangeFit.js'
import { columnOf, type CourtMark } from './courtMarks.js'

/** `lookedDown` is no fault: a camera that hangs higher shortens what is held upright near by. It explains before pixels do, and is not told. */
export type CauseKind =
  'start' | 'zoomed' | 'moved' | 'size' | 'mark' | 'scaled' | 'aspect' | 'rougher' | 'lookedDown'

/** Something that may be wrong with a walk: where, and what it does to the marks' numbers. */
export interface Cause {
  readonly kind: CauseKind
  /** Where it acts; null for all. */
  readonly light: string | null
  readonly reference: string | null
  /** The one mark, or the mark from which on. */
  readonly mark: MarkMeasurement | null
  /** The marks it acts on. */
  readonly touches: (mark: FittedMark) => boolean
}

/** Marks that must remain to judge by where one is blamed, and to tell where a tape begins. */
const LEAST_FOR_MARK = 4
const LEAST_FOR_START = 3

/** All causes that the marks of a walk could tell apart at all. */
export function causesOf(all: readonly CourtMark[]): Cause[] {
  const marks = all.map(({ fitted }) => fitted)
  const lights = distinct(marks.map(({ mark }) => mark.light))
  const references = distinct(marks.map(({ mark }) => mark.reference))
  const everywhere = { light: null, reference: null, mark: null, touches: () => true }
  const ofLight = (light: string) => ({ ...everywhere, light, touches: inLight(light) })
  const ofReference = (reference: string) => ({ ...everywhere, reference, touches: ofIts(reference) })
  const places = (of: readonly FittedMark[]): number => distinct(of.map(distanceOf)).length
  const tellsStart = (of: readonly FittedMark[]): boolean => places(of) >= LEAST_FOR_START
  // At one place alone a difference is that place's.
  const tellsTwo = (isOf: (mark: FittedMark) => boolean): boolean =>
    [true, false].every((side) => places(marks.filter((mark) => isOf(mark) === side)) > 1)
  const severalLights = lights.length > 1 ? lights : []
  const severalReferences = references.length > 1 ? references : []
  const squares = all.filter(({ square }) => square !== null).map(({ fitted }) => fitted)
  return [
    ...(tellsStart(marks) ? [{ ...everywhere, kind: 'start' as const }] : []),
    ...pairOnce(severalLights)
      .filter((light) => tellsTwo(inLight(light)))
      .map((light) => ({ ...ofLight(light), kind: 'zoomed' as const })),
    ...severalLights
      .filter((light) => tellsTwo(inLight(light)))
      .map((light) => ({ ...ofLight(light), kind: 'moved' as const })),
    ...pairOnce(severalReferences)
      .filter((reference) => tellsTwo(ofIts(reference)))
      .map((reference) => ({ ...ofReference(reference), kind: 'size' as const })),
    ...singleMarks(marks),
    ...scaledFrom(marks, null, () => true),
    ...severalLights.flatMap((light) => scaledFrom(marks, light, inLight(light))),
    ...[everywhere, ...severalLights.map(ofLight), ...severalReferences.map(ofReference)]
      .filter(({ touches }) => places(squares.filter(touches)) >= LEAST_FOR_START)
      .map((where) => ({ ...where, kind: 'aspect' as const })),
    ...(places(squares) >= LEAST_FOR_START ? lookedDown(squares) : []),
    ...(tellsStart(marks) ? [{ ...everywhere, kind: 'rougher' as const }] : []),
  ]
}

/** What a cause does to each mark's ln density and rho, a unit of its size; a shift of distances along the slope there. */
export function causeColumn(cause: Cause, marks: readonly CourtMark[], shiftsM: Float64Array): Float64Array {
  const { kind, touches } = cause
  if (isShift(cause))
    return columnOf(marks, ({ fitted }, i) =>
      touches(fitted) ? -1 / (fitted.point.distanceM + shiftsM[i]!) : 0,
    )
  if (kind === 'aspect')
    return columnOf(
      marks,
      ({ fitted }) => (touches(fitted) ? (fitted.used === 'horizontal' ? 0.5 : -0.5) : 0),
      ({ fitted }) => (touches(fitted) ? 1 : 0),
    )
  if (kind === 'lookedDown')
    return columnOf(
      marks,
      () => 0,
      ({ fitted }) => leanPattern(cause, fitted) ** 2 / 2,
    )
  return columnOf(marks, ({ fitted }) => (touches(fitted) ? 1 : 0))
}

/** How much a reference leans at a mark that is looked down on, a unit of the root of its size: as height over distance, or alike at the near marks. */
export function leanPattern({ mark, touches }: Cause, fitted: FittedMark): number {
  if (mark === null) return 1 / fitted.point.distanceM
  return touches(fitted) ? 1 : 0
}

/** Whether a cause makes distances longer or shorter; the others scale densities. */
export function isShift({ kind }: Cause): boolean {
  return kind === 'start' || kind === 'moved'
}

function lookedDown(squares: readonly FittedMark[]): Cause[] {
  const ordered = squares.toSorted((a, b) => distanceOf(a) - distanceOf(b))
  const { mark } = ordered[ordered.length >> 1]!
  const all = { kind: 'lookedDown' as const, light: null, reference: null }
  return [
    { ...all, mark: null, touches: () => true },
    { ...all, mark, touches: (each) => distanceOf(each) < mark.distanceM },
  ]
}

/** Single marks, each in its series and, where several series stand there, at its place in its light and everywhere. */
function singleMarks(marks: readonly FittedMark[]): Cause[] {
  const seen = new Set<string>()
  return marks.flatMap((of): Cause[] => {
    const { mark } = of
    const { light, reference } = mark
    const series = marks.filter((each) => inLight(light)(each) && ofIts(reference)(each))
    if (distinct(series.map(distanceOf)).length < LEAST_FOR_MARK) return []
    const here = (each: FittedMark): boolean => distanceOf(each) === distanceOf(of)
    const wider = [
      { light, reference: null, touches: (each: FittedMark) => here(each) && inLight(light)(each) },
      { light: null, reference: null, touches: here },
    ].filter(({ touches }) => {
      const key = marks.map((each) => (touches(each) ? 1 : 0)).join('')
      if (marks.filter(touches).length < 2 || seen.has(key)) return false
      seen.add(key)
      return true
    })
    const own = { light, reference, touches: (each: FittedMark) => each === of }
    return [own, ...wider].map((where) => ({ kind: 'mark', mark, ...where }))
  })
}

/** From one mark on everything larger or smaller, two marks at least on either side. */
function scaledFrom(
  marks: readonly FittedMark[],
  light: string | null,
  within: (mark: FittedMark) => boolean,
): Cause[] {
  const ordered = marks.filter(within).toSorted((a, b) => distanceOf(a) - distanceOf(b))
  const distances = distinct(ordered.map(distanceOf))
  return distances.slice(2, -1).map((fromM): Cause => {
    const { mark } = ordered.find((each) => distanceOf(each) === fromM)!
    const touches = (each: FittedMark): boolean => within(each) && distanceOf(each) >= fromM
    return { kind: 'scaled', light, reference: null, mark, touches }
  })
}

function distanceOf({ mark }: FittedMark): number {
  return mark.distanceM
}

function inLight(light: string): (mark: FittedMark) => boolean {
  return ({ mark }) => mark.light === light
}

function ofIts(reference: string): (mark: FittedMark) => boolean {
  return ({ mark }) => mark.reference === reference
}

/** Of two, one against the other says all. */
function pairOnce(names: readonly string[]): readonly string[] {
  return names.length === 2 ? names.slice(1) : names
}

function distinct<T>(values: readonly T[]): T[] {
  return [...new Set(values)]
}
