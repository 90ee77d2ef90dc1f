import type { Estimate, MaybeBound } from '../../../math/interval.js'
import type { Grading } from '../../../grade/gradings/grading.js'
import { logScale } from '../../../plot/plotScales.js'
import type { Figures } from '../../../units/figures.js'

const WIDTH = 300
const HEIGHT = 84
const SIDE = 14

interface Props {
  readonly grading: Grading
  readonly figures: Figures
  readonly pixels: Estimate
  readonly detail: MaybeBound | null
}

/** The density between the grades' limits, on a rule that says its unit: filled by pixels, open with detail, with their intervals. */
export function LimitRule({ grading, figures, pixels, detail }: Props) {
  const limits = grading.grades.map(({ limit }) => limit)
  const low = Math.min(...limits) / 1.6
  const high = Math.max(...limits) * 1.6
  const x = logScale(low, high, SIDE, WIDTH - SIDE)
  const at = (density: number): number => x.at(Math.max(low, Math.min(high, density)))
  return (
    <svg
      class="rule"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label="The density between the grades' limits"
    >
      <line x1={SIDE} x2={WIDTH - SIDE} y1={40} y2={40} class="hair" />
      {grading.grades.map(({ id, name, limit }, index) => (
        <g key={id}>
          <line x1={at(limit)} x2={at(limit)} y1={26} y2={54} class="line" />
          <text x={at(limit)} y={index % 2 === 0 ? 10 : 21} text-anchor="middle">
            {name}
          </text>
          <text x={at(limit)} y={67} text-anchor="middle" class="faint">
            {figures.ownLimit(limit)}
          </text>
        </g>
      ))}
      <text x={WIDTH} y={81} text-anchor="end" class="faint">
        limits in {figures.densityUnit}
      </text>
      <Whisker estimate={pixels} y={35} at={at} filled={true} />
      {detail === null ? null : <Whisker estimate={detail} y={46} at={at} filled={false} />}
    </svg>
  )
}

interface WhiskerProps {
  readonly estimate: MaybeBound
  readonly y: number
  readonly at: (density: number) => number
  readonly filled: boolean
}

function Whisker({ estimate, y, at, filled }: WhiskerProps) {
  return (
    <g>
      <line x1={at(estimate.low ?? estimate.value)} x2={at(estimate.high)} y1={y} y2={y} class="whisker" />
      <circle cx={at(estimate.value)} cy={y} r={4} class={filled ? 'mark-filled' : 'mark-open'} />
    </g>
  )
}
