import type { MaybeBound } from '../../math/interval.js'
import type { Figures } from '../../units/figures.js'
import { shareText } from '../../units/printedShare.js'

/** One grade of a published list. */
export interface Grade {
  readonly id: string
  readonly name: string
  /** Least density, px/m, exactly as its source gives it. */
  readonly limit: number
  /** Size in metres of the element that must stand out; by default two pixels at the limit. */
  readonly element?: number | undefined
}

/** A published list of grades, lowest limit first. */
export interface Grading {
  readonly id: string
  readonly name: string
  readonly source: string
  readonly grades: readonly Grade[]
  /** Least Rose k of an element; default 5 (Rose 1948). */
  readonly leastRoseK?: number | undefined
  /** f10 in cycles/px from which every pixel counts; default 0.4, this project's convention. */
  readonly fullDetailAt?: number | undefined
}

export const DEFAULT_LEAST_ROSE_K = 5
export const DEFAULT_FULL_DETAIL_AT = 0.4

/** The element that must stand out for a grade, metres: its own, or two pixels at the grade's limit. */
export function elementM(grade: Grade): number {
  return grade.element ?? 2 / grade.limit
}

/** The detail that a grade asks for, cycles per metre: its limit, of which every pixel counts. */
export function askedDetail(
  { limit }: Pick<Grade, 'limit'>,
  { fullDetailAt }: Pick<Grading, 'fullDetailAt'>,
): MaybeBound {
  const value = limit * (fullDetailAt ?? DEFAULT_FULL_DETAIL_AT)
  return { value, low: value, high: value }
}

/** The finest stroke that a grade asks for, "Recognise asks for 10.0 mm"; nothing of what is no grade of the grading. */
export function strokeAsked(
  id: string | null,
  grading: Grading,
  figures: Pick<Figures, 'stroke' | 'strokeUnit'>,
): string {
  const grade = grading.grades.find((one) => one.id === id)
  return grade === undefined
    ? ''
    : `${grade.name} asks for ${figures.stroke(askedDetail(grade, grading))} ${figures.strokeUnit}`
}

/** The name of a grade; a dash where it could not be judged. */
export function gradeNameOf(
  id: string | null,
  { grades }: { readonly grades: readonly Pick<Grade, 'id' | 'name'>[] },
): string {
  return id === null ? '-' : (grades.find((grade) => grade.id === id)?.name ?? id)
}

/** A promise by its grade, or by the share of characters it lets read: as it is made (`read`), or judged (`limit`). */
interface NamedPromise {
  readonly grade: string | null
  readonly kind?: string | undefined
  readonly read?: number | undefined
  readonly limit?: number | undefined
}

/** What was promised: a grade's name, or that it stays below one, or how much is read. */
export function promisedName(
  { grade, kind, read, limit }: NamedPromise,
  grading: Parameters<typeof gradeNameOf>[1],
): string {
  if (kind === 'read') return `${shareText(read ?? limit ?? Number.NaN)} read`
  return `${kind === 'most' ? 'below ' : ''}${gradeNameOf(grade, grading)}`
}

/** The limits of a grading, px/m: what no printed density may be rounded across. */
export function limitsOf({ grades }: { readonly grades: readonly Pick<Grade, 'limit'>[] }): number[] {
  return grades.map(({ limit }) => limit)
}
