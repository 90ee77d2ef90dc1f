import { courtSays, CAUSE_NAMES } from './sentences.js'
import { chi2Quantile } from '../../math/quantiles.js'
import { problem, type Said } from '../../sentences.js'
import type { Estimate } from '../../math/interval.js'
import { type Figures, listed } from '../../units/figures.js'
import { estimateText } from '../../units/printedEstimate.js'
import type { WalkFinding } from '../judgement.js'
import { suspectTurn } from '../marks/markWords.js'
import { type Series, tapedM } from '../range/series.js'
import type { FittedWalk } from './fitWalk.js'
import type { Finding, NamedCause } from './hearCourt.js'

/**
 * What the court found, each cause with its size and 95 % interval (metres; shares of a density; how many times as far), and those it cannot be told from.
 * `beginsM` of where the tape begins is in the distances already.
 */
export function causeFindings(
  { series, found }: FittedWalk,
  figures: Figures,
  beginsM: number,
): WalkFinding[] {
  return [
    ...found.flatMap((causes) => oneHearing(causes, series, figures, beginsM)),
    ...series.flatMap((each) => scatter(each)),
  ]
}

/** Causes that cannot be told apart are each told, naming the others; single marks among them are blamed in no sentence of their own. */
function oneHearing(
  causes: Finding,
  series: readonly Series[],
  figures: Figures,
  beginsM: number,
): WalkFinding[] {
  const shared = causes.filter(({ kind }) => kind !== 'mark')
  const told = shared.length === 0 ? causes.slice(0, 1) : shared
  return told.map((cause) => {
    const { said, figure } = sentenceOf(cause, causes, series, figures, beginsM)
    const others = causes.filter((other) => other !== cause && causes.length > 1 && shared.length > 0)
    const names = [...new Set(others.map((other) => nameOf(other, figures)))]
    const { code, message } = problem(said)
    return {
      code,
      message: names.length === 0 ? message : courtSays['not-told-apart'](message, listed(names)).message,
      light: cause.light,
      reference: cause.reference,
      ...figure,
    }
  })
}

interface Sentence {
  readonly said: Said
  readonly figure: Estimate
}

function sentenceOf(
  cause: NamedCause,
  causes: Finding,
  series: readonly Series[],
  figures: Figures,
  beginsM: number,
): Sentence {
  const { kind, u, light, reference, mark } = cause
  const size = kind === 'start' ? beginsM + cause.size : cause.size
  const ends = { value: size, low: size - 2 * u, high: size + 2 * u }
  const share = mapped(ends, Math.expm1)
  const percent = `${estimateText(mapped(ends, (log) => 100 * Math.sign(size) * Math.expm1(log)))} %`
  const isMore = size > 0
  if (kind === 'start' || kind === 'moved') {
    const reach = figures.reach(mapped(ends, (metres) => Math.sign(size) * metres))
    const by = `${reach.value} ${figures.lengthUnit} (${reach.low} to ${reach.high})`
    return {
      figure: ends,
      said:
        kind === 'start'
          ? courtSays['tape-begins-elsewhere'](by, isMore, figures.distance(size))
          : courtSays['moved-between-lights'](light!, by, isMore),
    }
  }
  if (kind === 'zoomed')
    return { figure: share, said: courtSays['zoomed-between-lights'](light!, percent, isMore) }
  if (kind === 'size')
    return { figure: share, said: courtSays['size-disagrees'](reference!, percent, isMore) }
  if (kind === 'scaled')
    return {
      figure: share,
      said: courtSays['scaled-from-mark'](light, figures.distance(mark!.distanceM), percent, isMore),
    }
  if (kind === 'aspect')
    return {
      figure: share,
      said: courtSays['pixels-not-square'](light ?? reference, percent, isMore, cause.mayBeTurn === true),
    }
  if (kind === 'rougher') return { figure: ends, said: courtSays['corners-rougher'](estimateText(ends)) }
  const others = causes.flatMap((other) => other.mark?.distanceM ?? []).toSorted((a, b) => a - b)
  const own = series.find((one) => one.marks.includes(mark!))!
  const fits = mapped(ends, (log) => tapedM(own, mark!.lineOfSightM * Math.exp(-log)))
  const printed = figures.reach(fits)
  const fitsText = `${printed.value} ${figures.lengthUnit} (${printed.low} to ${printed.high})`
  return {
    figure: fits,
    said:
      causes.length === 1
        ? courtSays['mark-out'](
            `${own.light}, ${own.reference}`,
            figures.distance(mark!.distanceM),
            fitsText,
            suspectTurn(mark!),
          )
        : courtSays['marks-disagree'](
            figures.distances([...new Set(others)]),
            figures.distance(mark!.distanceM),
            fitsText,
          ),
  }
}

/** A figure carried through a function that may turn its ends round. */
function mapped({ value, low, high }: Estimate, by: (value: number) => number): Estimate {
  const [a, b] = [by(low), by(high)]
  return { value: by(value), low: Math.min(a, b), high: Math.max(a, b) }
}

function nameOf({ kind, mark, light }: NamedCause, figures: Figures): string {
  const { distanceM } = mark ?? { distanceM: 0 }
  if (kind === 'mark') return `the ${figures.distance(distanceM)} mark alone`
  if (kind === 'scaled') return `stills scaled from ${figures.distance(distanceM)} on`
  return `${CAUSE_NAMES[kind]}${kind === 'moved' && light !== null ? ` in ${light}` : ''}`
}

/** What is left where no cause explains it: the marks scatter farther than stated. */
function scatter({ light, reference, fit }: Series): WalkFinding[] {
  if (fit === null || fit.widening === 1) return []
  const { widening, dof } = fit
  const end = (p: number): number => widening * Math.sqrt(dof / chi2Quantile(p, dof))
  const figure = { value: widening, low: end(0.975), high: end(0.025) }
  return [
    {
      ...problem(courtSays['marks-scatter'](`${light}, ${reference}`, estimateText(figure))),
      light,
      reference,
      ...figure,
    },
  ]
}
