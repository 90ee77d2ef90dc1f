import type { MaybeBound } from '../../../math/interval.js'
import { evenScale, logScale, type PlotScale } from '../../../plot/plotScales.js'
import { limitLabel, plotInWords } from '../../../plot/plotWords.js'
import { belongsTo, type Series, seriesOf, seriesText } from '../../../plot/series.js'
import { lightDash, type MarkerShape, referenceShape } from '../../../plot/seriesStyle.js'
import { type Figures, figuresOf, trimmed } from '../../../units/figures.js'
import type { WalkResults } from '../../../walk/schemas/resultsSchema.js'
import { usePart } from '../state/pageStore.js'

const WIDTH = 760
const HEIGHT = 380
const LEFT = 56
/** Room for the labels of the limits, which are longer in feet. */
const rightOf = ({ isMetric }: Figures): number => (isMetric ? 150 : 240)
const TOP = 16
const BOTTOM = 40

/** Density against distance as on the sheet: a line style per light, a marker per reference, the grades' limits as labelled lines. */
export function RangePlot() {
  const results = usePart((state) => state.results?.results ?? null)
  if (results === null || results.marks.length === 0) return null
  const figures = figuresOf(results)
  const { x, y } = scalesOf(results, figures)
  const drawn = drawnSeries(results)
  return (
    <figure class="plot">
      <figcaption>
        Density against distance, {figures.densityUnit}. Filled: by pixels; open: with detail.
        {drawn.map(({ series, dash, shape }) => (
          <span key={seriesText(series)} class="plot-key">
            <svg viewBox="0 0 36 12" width="36" height="12" aria-hidden="true">
              <line x1={0} x2={36} y1={6} y2={6} class="line" stroke-dasharray={dash} />
              <Marker shape={shape} x={18} y={6} filled={true} />
            </svg>
            {seriesText(series)}
          </span>
        ))}
      </figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={plotInWords(results, figures)}>
        <Axes figures={figures} x={x} y={y} />
        {results.grading.grades.map(({ id, name, limit }) => {
          const at = figures.inDensityUnit(limit)
          return at < y.low || at > y.high ? null : (
            <g key={id}>
              <line x1={LEFT} x2={WIDTH - rightOf(figures)} y1={y.at(at)} y2={y.at(at)} class="hair" />
              <text x={WIDTH - rightOf(figures) + 8} y={y.at(at) + 4}>
                {limitLabel({ name, limit }, figures)}
              </text>
            </g>
          )
        })}
        {drawn.map((one) => (
          <SeriesLine key={seriesText(one.series)} results={results} figures={figures} x={x} y={y} {...one} />
        ))}
      </svg>
    </figure>
  )
}

/** The scales that hold all densities with their intervals, the promised limits and all distances. */
function scalesOf({ marks, promises }: WalkResults, figures: Figures) {
  const densities = marks
    .flatMap(({ density, effectiveDensity }) => [density, effectiveDensity ?? density])
    .flatMap(({ low, high, value }) => [Math.max(low ?? value, value / 2), high])
  const positive = [...densities, ...promises.flatMap(({ limit, kind }) => (kind === 'read' ? [] : [limit]))]
    .filter((density) => density > 0 && Number.isFinite(density))
    .map((density) => figures.inDensityUnit(density))
  const farthest = Math.max(...[...marks, ...promises].map(({ distance }) => figures.inLengthUnit(distance)))
  return {
    x: evenScale(farthest, LEFT, WIDTH - rightOf(figures), 12),
    y: logScale(Math.min(...positive) / 1.4, Math.max(...positive) * 1.2, HEIGHT - BOTTOM, TOP),
  }
}

interface DrawnSeries {
  readonly series: Series
  readonly dash: string
  readonly shape: MarkerShape
  /** Series at one distance stand side by side, px. */
  readonly aside: number
}

function drawnSeries(results: WalkResults): DrawnSeries[] {
  const all = seriesOf(results)
  const lights = [...new Set(all.map(({ light }) => light))]
  const references = [...new Set(all.map(({ reference }) => reference))]
  return all.map((series, index) => ({
    series,
    dash: lightDash(lights.indexOf(series.light))
      .map((length) => length * 1.6)
      .join(' '),
    shape: referenceShape(references.indexOf(series.reference)),
    aside: (index - (all.length - 1) / 2) * 7,
  }))
}

interface AxesProps {
  readonly figures: Figures
  readonly x: PlotScale
  readonly y: PlotScale
}

function Axes({ figures, x, y }: AxesProps) {
  const [right, bottom] = [WIDTH - rightOf(figures), HEIGHT - BOTTOM]
  return (
    <>
      <line x1={LEFT} x2={LEFT} y1={TOP} y2={bottom} class="line" />
      <line x1={LEFT} x2={right} y1={bottom} y2={bottom} class="line" />
      {x.ticks.map((tick) => (
        <text key={tick} x={x.at(tick)} y={bottom + 18} text-anchor="middle">
          {trimmed(tick, 2)}
        </text>
      ))}
      <text x={right + 8} y={bottom + 18}>
        {figures.lengthUnit}
      </text>
      {y.ticks.map((tick) => (
        <text key={tick} x={LEFT - 8} y={y.at(tick) + 4} text-anchor="end">
          {trimmed(tick, 2)}
        </text>
      ))}
    </>
  )
}

interface LineProps extends AxesProps, DrawnSeries {
  readonly results: WalkResults
}

function SeriesLine({ results, series, figures, x, y, aside, dash, shape }: LineProps) {
  const marks = results.marks
    .filter((mark) => belongsTo(series, mark))
    .sort((a, b) => a.distance - b.distance)
  const across = (distanceM: number): number => x.at(figures.inLengthUnit(distanceM)) + aside
  const up = (density: number): number => y.at(Math.max(y.low, figures.inDensityUnit(density)))
  const line = marks
    .filter(({ leftOut }) => !leftOut)
    .map(({ distance, density }) => `${across(distance)},${up(density.value)}`)
  const whisker = (at: number, { low, value, high }: MaybeBound) => (
    <line x1={at} x2={at} y1={up(low ?? value)} y2={up(high)} class="whisker" />
  )
  return (
    <g>
      <polyline points={line.join(' ')} class="line" fill="none" stroke-dasharray={dash} />
      {marks.map((mark) => {
        const at = across(mark.distance)
        return (
          <g key={mark.distance}>
            {mark.effectiveDensity === null ? null : (
              <>
                {whisker(at, mark.effectiveDensity)}
                <Marker shape={shape} x={at} y={up(mark.effectiveDensity.value)} filled={false} />
              </>
            )}
            {whisker(at, mark.density)}
            <Marker shape={shape} x={at} y={up(mark.density.value)} filled={!mark.leftOut} />
            {mark.leftOut ? (
              <path d={`M${at - 7} ${up(mark.density.value) - 7}l14 14m0 -14l-14 14`} class="line" />
            ) : null}
          </g>
        )
      })}
    </g>
  )
}

interface MarkerProps {
  readonly shape: MarkerShape
  readonly x: number
  readonly y: number
  readonly filled: boolean
}

function Marker({ shape, x, y, filled }: MarkerProps) {
  const look = filled ? 'mark-filled' : 'mark-open'
  if (shape === 'circle') return <circle cx={x} cy={y} r={4.5} class={look} />
  if (shape === 'square') return <rect x={x - 4} y={y - 4} width={8} height={8} class={look} />
  if (shape === 'triangle') return <path d={`M${x} ${y - 5}l5 9h-10z`} class={look} />
  return <path d={`M${x} ${y - 5.5}l5.5 5.5l-5.5 5.5l-5.5 -5.5z`} class={look} />
}
