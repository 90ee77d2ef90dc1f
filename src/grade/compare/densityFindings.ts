import { compareSays } from './sentences.js'
import { problem, type Said } from '../../sentences.js'
import { isSameScale } from '../scene/sceneApart.js'
import { type Figures, figuresFor, listed } from '../../units/figures.js'
import { changeInPrint, changeWithInterval, underLights } from './changeWords.js'
import type { Compared, ComparisonFinding, SharedMark } from './comparison.js'
import { densityCauses, type FoundCause } from './densityCauses.js'

/** What changed densities beyond chance, in words: what the marks share before what is one mark's, and each cause with those it cannot be told from. */
export function densityFindings({ series, shared, after, scene }: Compared): ComparisonFinding[] {
  if (!series.some(({ density }) => density.significant)) return []
  const figures = figuresFor(after.units)
  const isUnzoomed = scene.length > 0 && scene.every(isSameScale)
  return densityCauses(shared, isUnzoomed).map((causes): ComparisonFinding => {
    const [first, ...rest] = causes as [FoundCause, ...FoundCause[]]
    const isCamera = first.kind === 'camera'
    const other = isCamera ? rest.find(({ kind }) => kind === 'camera') : undefined
    const said =
      other === undefined
        ? causeSays(first, shared, figures)
        : compareSays['moved-or-zoomed'](changeWords([first, other], shared))
    const others = rest.filter(({ kind }) => !isCamera || kind !== 'camera')
    const message =
      others.length === 0
        ? said.message
        : compareSays['as-likely'](said.message, [...new Set(others.map(causeWords))]).message
    return { ...problem({ ...said, message }), weight: 'changed' }
  })
}

function causeSays(cause: FoundCause, shared: readonly SharedMark[], figures: Figures): Said {
  const { name, of, size, U } = cause
  const change = changeWords([cause], shared)
  if (name === 'zoomed') return compareSays.zoomed(change)
  if (name === 'light') return compareSays['density-in-one-light'](underLights(of), change)
  if (name === 'moved') {
    const { value } = figures.reach({
      value: Math.abs(size),
      low: Math.abs(size) - U,
      high: Math.abs(size) + U,
    })
    return compareSays.moved(change, `${value} ${figures.lengthUnit}`, size > 0)
  }
  if (name === 'mark') {
    const { light, reference, distanceM } = shared[Number(of[0])]!.pair.before
    const place = `${light}, ${reference}: the ${figures.distance(distanceM)}`
    return compareSays['density-at-one-mark'](place, changeInPrint(changeOf(cause, 1)).change)
  }
  const rest = shared.map(({ pair }) => pair.before.reference).filter((one) => !of.includes(one))
  if (rest.length === 0) return compareSays['only-reference'](listed(of), change)
  return compareSays['reference-or-hand'](listed(of), change, listed([...new Set(rest)]))
}

function causeWords({ name, of }: FoundCause): string {
  if (name === 'zoomed') return 'a zoom'
  if (name === 'moved') return 'a move along the view'
  if (name === 'light') return `a change ${underLights(of)} alone`
  return `another size or hand of the ${listed(of)} alone`
}

/** The change of density that causes make, with the hull of their intervals: of a move, which changes it from mark to mark, on the whole. */
function changeWords(causes: readonly FoundCause[], shared: readonly SharedMark[]): string {
  const inverse = shared.map(({ pair }) => 1 / pair.before.lineOfSightM)
  const mean = inverse.reduce((sum, each) => sum + each, 0) / inverse.length
  const changes = causes.map((cause) => changeOf(cause, cause.name === 'moved' ? mean : 1))
  return changeWithInterval({
    change: changes[0]!.change,
    low: Math.min(...changes.map(({ low }) => low)),
    high: Math.max(...changes.map(({ high }) => high)),
  })
}

function changeOf({ size, U }: FoundCause, load: number): { change: number; low: number; high: number } {
  const share = (log: number): number => Math.exp(load * log) - 1
  return { change: share(size), low: share(size - U), high: share(size + U) }
}
