import { strokeAsked } from '../../../grade/gradings/grading.js'
import type { StillEntry } from '../../../walk/schemas/resultsSchema.js'
import type { WalkView } from '../../api.js'
import { walkFigures } from '../state/walkFigures.js'

interface Props {
  readonly entry: StillEntry
  readonly walk: WalkView
  readonly gradeName: (id: string | null) => string
}

/** Detail, contrast and tone of a measured still, its grade with detail, and what fails. */
export function DetailFigures({ entry, walk, gradeName }: Props) {
  const figures = walkFigures(walk)
  const { effectiveDensity: detail, sharpness, tone, usable } = entry
  const rows: (readonly [string, string])[] = [
    ...(detail === null
      ? []
      : [
          [
            'With detail',
            `${figures.density(detail).value} ${figures.densityUnit} (${figures.interval(detail)})`,
          ] as const,
        ]),
    ...(entry.resolved === null
      ? []
      : [
          [
            'Finest stroke, by strong edges',
            [
              `${figures.stroke(entry.resolved)} ${figures.strokeUnit}`,
              strokeAsked(entry.gradeByPixels, walk.grading, figures),
            ]
              .filter((part) => part !== '')
              .join('; '),
          ] as const,
        ]),
    ...(sharpness === null
      ? []
      : [
          ['Pixels that carry detail', percent(sharpness.factor)] as const,
          [
            '10 % modulation',
            `${Math.min(sharpness.horizontal.mtf10, sharpness.vertical.mtf10).toFixed(2)} cycles/px`,
          ] as const,
        ]),
    ...(tone === null
      ? []
      : [
          ['Contrast', percent(tone.michelson)] as const,
          ['Noise', `${tone.noise.toFixed(1)} of 255`] as const,
          ['At white, at black', `${percent(tone.clippedBright)}, ${percent(tone.clippedDim)}`] as const,
        ]),
    ...(entry.pose === null ? [] : [['Turned', `${Math.abs(entry.pose.yaw).toFixed(0)}°`] as const]),
  ]
  return (
    <section class="detail" aria-label="Detail and contrast">
      <p class="grade-line">
        <strong>{walk.judge === 'pixels' ? gradeName(entry.gradeByPixels) : gradeName(entry.grade)}</strong>{' '}
        {walk.judge === 'pixels' ? 'as this walk judges, by pixels' : 'with detail and contrast'}
      </p>
      {usable === false ? <p class="fails">Nothing can be made out on it.</p> : null}
      {entry.problems.map(({ code, message }) => (
        <p class="problem" key={code}>
          {message}
        </p>
      ))}
      <dl>
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`
}
