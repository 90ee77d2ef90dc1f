import { insideSpans } from './insideSpans.js'
import { FAILING_SHARE, type Problem, type Tone, type ToneElement } from '../stillMeasurement.js'
import type { ReferenceCut, ToneAreas } from './toneAreas.js'
import { WHITE_CODE } from './clipping.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

const DEFAULT_LEAST_K = 5
/** Shares from which clipping is told, and from which a reference at white is called washed out: this project's convention. */
const TOLD_CLIPPED = 0.2
const WASHED_OUT = 0.5

/** What the reader should know of a tone: washed out, too noisy, clipped, or noise that was smoothed away; why k is missing. */
export function toneProblems(
  tone: Tone,
  cut: ReferenceCut,
  areas: ToneAreas,
  options: { readonly elements: readonly ToneElement[]; readonly leastRoseK?: number },
): readonly Problem[] {
  const least = options.leastRoseK ?? DEFAULT_LEAST_K
  const known = Object.values(tone.roseK).filter((one) => one !== null)
  const reach = known.map(({ k, U }) => k + U)
  const short = known.length > 0 && Math.max(...reach) < FAILING_SHARE * least
  const problems: Problem[] = []
  const white = shareAtWhite(cut)
  if (white >= WASHED_OUT && (short || !areas.isMarked)) {
    problems.push(problem(measureSays['washed-out'](white, tone.michelson)))
  } else if (short) {
    problems.push(problem(measureSays['too-noisy'](Math.max(...known.map(({ k }) => k)), least)))
  } else if (!areas.isMarked && areas.noiseKind === 'measured') {
    problems.push(problem(measureSays['no-two-levels'](tone.michelson)))
  } else if (tone.clippedBright >= TOLD_CLIPPED) {
    problems.push(problem(measureSays['clipped-bright'](tone.clippedBright)))
  }
  if (isSomethingUntold(tone, options.elements, least))
    problems.push(problem(measureSays['few-even-squares']()))
  if (areas.isPartRough) problems.push(problem(measureSays['part-rough']()))
  if (isNoiseShared(areas)) problems.push(problem(measureSays['may-be-processed']()))
  if (known.length > 0 && tone.noise < 1) problems.push(problem(measureSays['k-upper-bound']()))
  return problems
}

/** From so much on neighbours share more of their noise than a JPEG leaves an untouched picture (0.25 at a quality of 85), and noise so strong JPEG leaves as it is. This project's convention, by simulation. */
const SHARED_NOISE = 0.5
const STRONG_NOISE_CODE = 1.5

/** Whether neighbours share their noise as after a recorder's noise reduction. */
function isNoiseShared({ noiseKind, ground: { variance, across, down } }: ToneAreas): boolean {
  const shared = Math.min(across[1] ?? 0, down[1] ?? 0)
  return noiseKind === 'measured' && shared > SHARED_NOISE && variance > STRONG_NOISE_CODE ** 2
}

/** Whether an element's k is missing that matters: a coarser element stands out wherever a finer one is known to. */
function isSomethingUntold(tone: Tone, elements: readonly ToneElement[], leastK: number): boolean {
  const standing = elements.filter(({ gradeId }) => {
    const one = tone.roseK[gradeId]
    return one !== null && one !== undefined && one.k - one.U >= leastK
  })
  const finestM = Math.min(...standing.map(({ elementM }) => elementM))
  return elements.some(({ gradeId, elementM }) => tone.roseK[gradeId] === null && !(elementM > finestM))
}

/** The share of the reference's own pixels at white. */
function shareAtWhite(cut: ReferenceCut): number {
  const spans = insideSpans(cut.lines, cut, 1)
  let white = 0
  let all = 0
  for (let j = 0; j < cut.height; j += 1) {
    for (let i = spans[2 * j]!, at = j * cut.width + i; i < spans[2 * j + 1]!; i += 1, at += 1) {
      all += 1
      if (cut.data[at]! >= WHITE_CODE) white += 1
    }
  }
  return all === 0 ? 0 : white / all
}
