import { insideSpans } from './insideSpans.js'
import type { Problem, Tone, ToneElement } from '../stillMeasurement.js'
import type { ReferenceCut, ToneAreas } from './toneAreas.js'
import { WHITE_CODE } from './clipping.js'

const DEFAULT_LEAST_K = 5
/** Shares from which clipping is told, and from which a reference at white is called washed out: this project's convention. */
const TOLD_CLIPPED = 0.2
const WASHED_OUT = 0.5

const percent = (share: number): string => `${Math.round(100 * share)} %`

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
  const short = known.length > 0 && Math.max(...reach) < least
  const problems: Problem[] = []
  const white = shareAtWhite(cut)
  if (white >= WASHED_OUT && (short || !areas.parted)) {
    problems.push({
      code: 'washed-out',
      message: `washed out: ${percent(white)} of the reference is at white, contrast ${percent(tone.michelson)}`,
    })
  } else if (short) {
    const best = Math.max(...known.map(({ k }) => k))
    problems.push({
      code: 'too-noisy',
      message: `too noisy: a stroke stands out ${best.toFixed(1)} times, ${least} is needed`,
    })
  } else if (!areas.parted && areas.noiseKind === 'measured') {
    problems.push({
      code: 'no-two-levels',
      message: `strokes and ground cannot be told apart, contrast ${percent(tone.michelson)}`,
    })
  } else if (tone.clippedBright >= TOLD_CLIPPED) {
    problems.push({
      code: 'clipped-bright',
      message: `${percent(tone.clippedBright)} of the bright ground is at white`,
    })
  }
  if (isSomethingUntold(tone, options.elements, least)) {
    problems.push({
      code: 'few-even-squares',
      message:
        'fewer than 8 even squares as large as a stroke: noise against contrast is not told for every grade',
    })
  }
  if (known.length > 0 && tone.noise < 1) {
    problems.push({ code: 'k-upper-bound', message: 'noise is under one code value, so k is an upper bound' })
  }
  return problems
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
