import { choleskyInverse, choleskySolve } from '../../math/cholesky.js'
import { groupBy } from '../../math/groupBy.js'
import { dot } from '../../math/normalEquations.js'
import { chi2Quantile } from '../../math/quantiles.js'
import type { SharedMark } from './comparison.js'
import { covarianceOf } from './logChange.js'

/** What several marks share may have changed their density: the camera, one light, references or the hand that clicked them; or it is one mark's own. */
interface Cause {
  readonly kind: 'camera' | 'light' | 'reference' | 'mark'
  /** `moved`: by 1 / distance; all others by one share. */
  readonly name: 'zoomed' | 'moved' | 'light' | 'reference' | 'mark'
  /** The light, or the references, or the index of the mark. */
  readonly of: readonly string[]
  /** How the logarithm of each shared mark's change answers to it. */
  readonly column: readonly number[]
}

/** A cause with its size in its own unit (a logarithm of density; metres nearer) and expanded uncertainty, 95 %. */
export interface FoundCause extends Omit<Cause, 'column'> {
  readonly size: number
  readonly U: number
}

// All this project's conventions.
/** A second cause beside the first is told at this family-wise chance. */
const CHANCE = 0.03
/** Twice the logarithm of ten: a cause less unlikely than that cannot be told from the likeliest. */
const TOLD_APART = 4.6
const MOST_CAUSES = 3
/** Of causes that cannot be told apart the one that touches most comes first. */
const WIDEST_FIRST: readonly Cause['kind'][] = ['camera', 'light', 'reference', 'mark']
const MARKS_TO_BLAME_ONE = 4

/**
 * What changed the densities of a pair of walks, by likelihood over all shared marks with everything they share (generalised least squares): the likeliest
 * cause with those that the marks do not tell from it, the one that touches most first; then, what it leaves, by the same rule. One mark alone is blamed only where no shared cause explains it; a zoom
 * not where the scene is as large as before (`isUnzoomed`).
 */
export function densityCauses(shared: readonly SharedMark[], isUnzoomed = false): FoundCause[][] {
  const causes = possibleCauses(shared, isUnzoomed)
  // Another light may have been walked by another hand from another start: what two series share is not counted as shared.
  const series = shared.map(({ pair: { before } }) => JSON.stringify([before.light, before.reference]))
  const covariance = covarianceOf(
    shared.map(({ density }) => density),
    (one, other) => series[one] === series[other],
  )
  const inverse = choleskyInverse(covariance, shared.length)
  if (inverse === null) return []
  const y = shared.map(({ density }) => density.logRatio)
  const found: FoundCause[][] = []
  const taken: Cause[] = []
  const kinds = new Set(causes.map(({ kind }) => kind)).size
  for (let explained = 0; found.length < MOST_CAUSES;) {
    const columns = taken.map(({ column }) => column)
    const tried = causes.flatMap((cause) => {
      const fit = fitColumns([...columns, cause.column], y, inverse)
      if (fit === null) return []
      const alike = causes.filter(({ kind }) => kind === cause.kind).length
      const drop = fit.explained - explained
      const isSure = drop > chi2Quantile(1 - CHANCE / (alike * kinds), 1)
      return [{ cause, fit, isSure, score: drop - 2 * Math.log(alike) }]
    })
    tried.sort((a, b) => b.score - a.score)
    const near = tried.filter(({ score }) => score >= tried[0]!.score - TOLD_APART)
    near.sort((a, b) => WIDEST_FIRST.indexOf(a.cause.kind) - WIDEST_FIRST.indexOf(b.cause.kind))
    const common = near.filter(({ cause }) => cause.kind !== 'mark')
    const named = common.length > 0 ? common : near.slice(0, 1)
    // That something changed is known before the first is looked for.
    if (named.length === 0 || (found.length > 0 && !named[0]!.isSure)) return found
    found.push(named.map(({ cause: { kind, name, of }, fit: { size, U } }) => ({ kind, name, of, size, U })))
    taken.push(named[0]!.cause)
    explained = named[0]!.fit.explained
  }
  return found
}

function possibleCauses(shared: readonly SharedMark[], isUnzoomed: boolean): Cause[] {
  const lights = [...groupBy(shared, ({ pair }) => pair.before.light).keys()]
  const references = [...groupBy(shared, ({ pair }) => pair.before.reference).keys()]
  const clicked = references.filter((name) =>
    shared.some(({ pair, density }) => pair.before.reference === name && density.clicked),
  )
  const ones = (is: (mark: SharedMark) => boolean): number[] => shared.map((mark) => (is(mark) ? 1 : 0))
  const byReference = (of: readonly string[]): Cause => ({
    kind: 'reference',
    name: 'reference',
    of,
    column: ones(({ pair }) => of.includes(pair.before.reference)),
  })
  const sets = references.length < 2 && !isUnzoomed ? [] : references.map((name) => [name])
  if (clicked.length > 1 && clicked.length < references.length) sets.push(clicked)
  const zoomed: Cause = { kind: 'camera', name: 'zoomed', of: [], column: ones(() => true) }
  return [
    ...(isUnzoomed ? [] : [zoomed]),
    {
      kind: 'camera',
      name: 'moved',
      of: [],
      column: shared.map((mark) => 1 / mark.pair.before.lineOfSightM),
    },
    ...(lights.length < 2 ? [] : lights).map((light): Cause => {
      const column = ones(({ pair }) => pair.before.light === light)
      return { kind: 'light', name: 'light', of: [light], column }
    }),
    ...sets.map(byReference),
    ...(shared.length < MARKS_TO_BLAME_ONE ? [] : shared).map((mark, index): Cause => {
      return { kind: 'mark', name: 'mark', of: [String(index)], column: ones((one) => one === mark) }
    }),
  ]
}

/** Generalised least squares of the columns: what of chi-square they explain, and the last one's size with its expanded uncertainty; null where they are not told apart. */
function fitColumns(
  columns: readonly (readonly number[])[],
  y: readonly number[],
  inverse: Float64Array,
): { readonly explained: number; readonly size: number; readonly U: number } | null {
  const n = y.length
  const weighted = columns.map((column) =>
    column.map((_, i) => column.reduce((sum, each, j) => sum + inverse[i * n + j]! * each, 0)),
  )
  const normal = Float64Array.from(weighted.flatMap((row) => columns.map((column) => dot(row, column))))
  const right = Float64Array.from(weighted.map((row) => dot(row, y)))
  const k = columns.length
  const covariance = choleskyInverse(normal, k)
  const sizes = new Float64Array(k)
  if (covariance === null || !choleskySolve(normal, right, sizes)) return null
  return { explained: dot(sizes, right), size: sizes[k - 1]!, U: 2 * Math.sqrt(covariance[k * k - 1]!) }
}
