import { problem } from '../../sentences.js'
import type { Problem, StripFigure } from '../stillMeasurement.js'
import { stripSays } from './sentences.js'

/** What of a still's strips is looked at for signs of processing: figures with their U, 95 %. */
export interface StripSeen {
  /** Response to faint bars over that to black ones, at a tenth and a fifth of a cycle per px, and at the lowest frequencies. */
  readonly fine: StripFigure
  readonly gain: StripFigure
  /** Response to black bars at a tenth and at a fifth of a cycle per px over the lowest. */
  readonly tenth: StripFigure
  readonly fifth: StripFigure
}

// This project's measurement on simulated stills at 110 to 200 px/m, 0.4 to 1.2 px of blur, 160 to 8000 electrons at white: of 162 unprocessed ones none gave a sign,
// of 27 behind a filter that keeps edges 23 the first, of 27 behind a strong unsharp mask 24 the second.
const LEAST_FINE = 0.85
const MOST_GAIN_OFF = 0.07
/** A pixel's own aperture leaves so much of a tenth and of a fifth of a cycle per px, over a twentieth: no lens leaves more. */
const MOST_TENTH = 0.988
const MOST_FIFTH = 0.939

/** Signs of the camera's processing that the strips show beyond their U. `printRel`: how far the faint bars' contrast may be printed off, relative. */
export function stripSigns({ fine, gain, tenth, fifth }: StripSeen, printRel: number): Problem[] {
  const signs: Problem[] = []
  if (fine.value + fine.U < LEAST_FINE) signs.push(problem(stripSays['fine-detail-taken'](fine.value)))
  if (tenth.value - tenth.U > MOST_TENTH || fifth.value - fifth.U > MOST_FIFTH)
    signs.push(problem(stripSays.sharpened()))
  if (Math.abs(gain.value - 1) - gain.U > MOST_GAIN_OFF + printRel)
    signs.push(problem(stripSays['contrast-altered'](gain.value)))
  return signs
}
