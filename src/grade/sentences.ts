import { capital, catalogue, countOf } from '../sentences.js'

/** f10 in words, for sentences that go on behind it. */
export const F10 = 'f10, the frequency at which contrast falls to 10 %'

/** Why the detail that strong edges show is an upper bound: signs of a recorder's processing, noise under which it may hide, a light that is not daylight. */
const BOUND_BY = {
  signs: 'because the still shows signs of processing',
  noise: 'because so much noise may hide noise reduction',
  night: 'because noise reduction at night may remove detail that strong edges still show',
} as const
export type BoundCause = keyof typeof BOUND_BY
const STRIPS = 'walk it with the strips under the chart (proofwalk chart --strip)'

/** What an interval may mostly come from, as it is told, and what to do about it. */
const PARTS = {
  points: {
    is: (reference: string) => `how exactly the corners of ${reference} are known`,
    mend: () => 'carry a larger board, or walk more marks',
  },
  clicks: {
    is: (reference: string) => `how exactly ${reference} was clicked`,
    mend: () => 'zoom in and click more exactly, or carry a larger board',
  },
  tapes: {
    is: () => 'the measured distance of each mark',
    mend: () => 'measure distances more exactly and write distance.tolerance, or walk more marks',
  },
  start: { is: () => 'where the tape measure starts', mend: () => 'walk more marks, near and far' },
  size: {
    is: (reference: string) => `the size of ${reference}`,
    mend: () => 'measure it more exactly and write its tolerance',
  },
  bend: { is: () => 'the bend of the lens', mend: () => 'walk more marks, farther out' },
  lens: { is: () => 'the lens', mend: () => 'walk more marks, across the whole picture' },
  tone: {
    is: (teller: string) => `the detail of ${teller}, read with an assumed tone curve`,
    mend: () => 'carry the chart in that light, which measures the curve',
  },
  detail: {
    is: (teller: string) => `the detail of ${teller}`,
    mend: (teller: string) => `carry a larger ${teller}, or walk more marks with it`,
  },
  causes: {
    is: (names: string) => `what the marks cannot settle (${names})`,
    mend: () => 'first settle what was found on the walk as a whole',
  },
} as const
export type DecidingPart = keyof typeof PARTS

/** What grading says of marks and promises. Figures come printed, by the printer of the walk. */
export const gradeSays = catalogue({
  'washed-out': {
    topic: 'contrast',
    say: (white: string, contrast: string) =>
      `washed out: ${white} of it is pure white, contrast ${contrast}`,
  },
  'too-noisy': {
    topic: 'contrast',
    say: (k: string, least: number) => `too noisy: a stroke stands out only ${k} times, ${least} needed`,
  },
  'nothing-stands-out': { topic: 'contrast', say: 'too noisy: a stroke of that size does not stand out' },
  'no-detail': {
    topic: 'detail',
    say: (told: string | undefined) => told ?? 'detail could not be measured',
  },

  'detail-bound': {
    topic: 'detail',
    means:
      'noise reduction and sharpening keep strong edges sharp but remove faint fine strokes. Board and chart do not show that, so their detail is the most there can be. Only the strips rule it out in a light whose name does not begin with "day"',
    say: (light: string, at: readonly string[], cause: BoundCause) =>
      `${[light, ...at].join(', ')}: detail is an upper bound, ${BOUND_BY[cause]}`,
    mend: STRIPS,
  },
  'rests-on-bound': {
    code: 'detail-bound',
    topic: 'detail',
    say: (counted: string, limit: string, cause: BoundCause) =>
      `${counted}, ${limit} needed. It may be less, ${BOUND_BY[cause]}`,
    mend: STRIPS,
  },
  'detail-from': { topic: 'detail', say: (lender: string) => `detail taken from ${lender}` },
  'lent-by': {
    topic: 'marks',
    means:
      'a light whose marks say little takes its size in pixels from another light. The scene must be equally large in both, nothing may have moved, and no mark may contradict another',
    say: (lender: string) => `by the marks of ${lender}`,
  },
  'constant-lent': {
    topic: 'marks',
    means:
      'how far grades hold in one light rests on the marks of another, which say it better. The scene is equally large in both, and nothing moved',
    say: (light: string, reference: string, lender: string, within: string) =>
      `${light}, ${reference}: how far grades hold rests on the marks of ${lender}, because the scene is equally large in both (within ${within} %)`,
  },
  'detail-elsewhere': {
    topic: 'detail',
    means:
      'another reference lends its detail only where its marks lie on both sides. It may be at most 5 degrees nearer the middle of the picture, because a lens is softer towards its edge',
    say: (lender: string, from: string, to: string, isNearerMiddle: boolean) =>
      `${lender} shows it only ${isNearerMiddle ? 'nearer the middle of the picture' : from === to ? `at ${from}` : `from ${from} to ${to}`}`,
  },

  'left-out': {
    topic: 'marks',
    say: (fits: string, _turned: string) => `left out: judging by the other marks it was taken at ${fits}`,
    mend: (_fits: string, turned: string) => `check the distance and the still${turned}`,
  },
  'other-size': {
    topic: 'marks',
    means:
      'a still of another size than the others of its light is shown, but it does not count. It is of another stream, or scaled or cropped',
    say: (size: string, light: string, others: string) =>
      `left out: it has ${size}, the series of ${light} has ${others}`,
    mend: 'export it at full size from the main stream',
  },
  'sizes-tie': {
    code: 'other-size',
    topic: 'marks',
    say: (sizes: readonly string[], light: string) =>
      `left out: as many stills of ${light} have ${sizes.join(' as ')}, so nothing shows which are scaled`,
    mend: 'write the size of the export in walk.yaml (camera.image), or export all alike',
  },
  'held-turned': {
    topic: 'marks',
    say: (turn: string, grade: string) => `${turn}: held square to the camera it would reach ${grade}`,
  },
  'mark-left-out': {
    topic: 'marks',
    say: (mark: string, fits: string, _turned: string) =>
      `the ${mark} mark is left out: judging by the others it was taken at ${fits}`,
    mend: (_mark: string, _fits: string, turned: string) =>
      `check the distance and the still${turned}, and walk it again`,
  },
  'nothing-stands-out-there': {
    topic: 'marks',
    say: (reference: string, at: string, why: string) =>
      `nothing can be made out on the ${reference} ${at}. ${capital(why)}`,
  },
  'no-detail-there': {
    topic: 'marks',
    say: (why: string, at: string, _carry: string) => `${why} ${at}`,
    mend: (_why: string, _at: string, carry: string) => `carry a ${carry}, or judge by pixels`,
  },
  'turned-there': {
    topic: 'marks',
    means:
      'held turned, the reference stays under the limit; held square it would reach it. Only a still of it held square can show that',
    say: (reference: string, turn: string | null, at: string, _promised: string) =>
      `${reference} ${turn ?? 'looks shortened'} ${at}. Held square to the camera it may reach the limit`,
    mend: (_reference: string, _turn: string | null, _at: string, promised: string) =>
      `walk ${promised} with it held square to the camera`,
  },
  'stroke-uncertain': {
    topic: 'marks',
    say: (counted: string) => `${counted}, but a stroke may not stand out from the noise`,
  },
  undecided: {
    topic: 'marks',
    means:
      'the largest part of the uncertainty shows what would help. Parts are points and clicks, distances, the start of the tape measure, sizes, the lens, detail, and open causes. Their percentages are of the squared width of the interval',
    say: (counted: string, limit: string, _part: DecidingPart, _percent: number, _of: string) =>
      `${counted}. The limit, ${limit}, lies inside that interval`,
    mend: (_counted: string, _limit: string, part: DecidingPart, percent: number, of: string) =>
      `${PARTS[part].mend(of)}. The largest part of the interval (${percent} %) is ${PARTS[part].is(of)}`,
  },
  decided: { topic: 'marks', say: (counted: string, limit: string) => `${counted}, ${limit} needed` },
  'between-marks': {
    topic: 'marks',
    means:
      'no still was measured at the promised distance. All marks together decide, if stills were taken on both sides of it',
    say: (promised: string, isApart: boolean, why: string) =>
      `${isApart ? 'no still that counts' : 'no measured still'} at ${promised}. ${capital(why)}`,
    mend: (promised: string) => `walk ${promised}`,
  },
  'stroke-not-shown': {
    topic: 'marks',
    say: (mark: string) => `a stroke is not shown to stand out at the ${mark} mark`,
  },
  'no-mark-holds': { topic: 'marks', say: 'no mark shows it to hold' },
  'beyond-usable': {
    topic: 'marks',
    say: (farthest: string) => `nothing is shown to hold beyond the farthest usable mark, ${farthest}`,
  },
  'nearer-than-usable': {
    topic: 'marks',
    means: 'a lamp near the camera may glare at distances nearer than any still shows',
    say: (nearest: string) => `nothing is shown to hold nearer than the nearest usable mark, ${nearest}`,
  },
  'holds-from': { topic: 'marks', say: (from: string) => `it is shown to hold only from ${from} on` },
  'holds-at': {
    topic: 'marks',
    say: (holds: string, fails: string | null, isDecided: boolean) =>
      `it holds at the ${holds} mark${fails === null ? '' : ` and fails at the ${fails} mark`}${decidesNeither(isDecided)}`,
  },
  'fails-at': { topic: 'marks', say: (fails: string) => `it fails at the ${fails} mark` },
  'most-anywhere': {
    topic: 'marks',
    means:
      'what must not be seen is judged by the greatest density anywhere in the picture. Where the lens is unknown, one that keeps straight lines straight is assumed, in the corner',
    say: (counted: string, limit: string, isKnown: boolean, verdict: 'met' | 'not met' | 'not shown') =>
      `${counted} where the picture is densest${isKnown ? '' : ', whatever the lens'}: ${verdict === 'met' ? `below ${limit}` : verdict === 'not met' ? `not below ${limit}` : `whether it is below ${limit} is not shown`}`,
  },
  'no-still-so-near': {
    topic: 'marks',
    say: (distance: string) => `no still was measured at ${distance} or nearer`,
    mend: (distance: string) => `walk ${distance}`,
  },
  'read-decided': {
    topic: 'marks',
    say: (share: string, at: string, limit: string, by: string) =>
      `${share} of characters read at ${at}, ${limit} needed (${by})`,
  },
  'read-undecided': {
    topic: 'marks',
    means:
      'the interval says what other readers and other texts might give. More of both make it narrower, and so do marks around the distance where reading fails',
    say: (share: string, at: string, limit: string) =>
      `${share} of characters read at ${at}. The promised ${limit} lies inside that interval`,
    mend: 'let more readers read more cards',
  },
  'read-too-few': {
    topic: 'marks',
    say: (readers: number, cards: number) =>
      `read for the most part by ${countOf(readers, 'reader')} from ${countOf(cards, 'text')}, too few for a verdict`,
    mend: 'it takes two of each, better five readers and three cards a mark',
  },
  'read-nearer': {
    topic: 'marks',
    say: (nearest: string, _at: string) => `nothing was read nearer than ${nearest}`,
    mend: (_nearest: string, at: string) => `take stills of the cards at ${at} or nearer`,
  },
  'read-beyond': {
    topic: 'marks',
    say: (farthest: string, _at: string) => `nothing was read beyond ${farthest}, the farthest mark`,
    mend: (_farthest: string, at: string) => `take stills of the cards at ${at} or farther`,
  },
  'read-contrary': {
    topic: 'marks',
    means:
      'reading only gets worse with distance. Where a nearer mark is read worse than one farther out, something else is wrong there',
    say: (share: string, at: string, mark: string, there: string) =>
      `${share} of characters would be read at ${at}, but ${there} were at ${mark}`,
    mend: 'look at the stills of that mark',
  },
  'reading-against-density': {
    topic: 'marks',
    means:
      'density, detail and contrast estimate what can be read; readers show it. Where their intervals lie apart, go by the readers for text of that size',
    say: (what: string, grade: string, basis: string, holds: string, read: string, isShort: boolean) =>
      isShort
        ? `${what}: ${grade} ${basis} holds to ${holds} at least, but readers read 95 % only to ${read}`
        : `${what}: readers read 95 % to ${read}, though ${grade} ${basis} ends by ${holds}`,
  },
  'read-nothing': {
    topic: 'marks',
    say: (reference: string | undefined, light: string, _at: string) =>
      `nothing${reference === undefined ? '' : ` on ${reference}`} was read in ${light}`,
    mend: (_reference: string | undefined, _light: string, at: string) =>
      `carry letter cards at ${at} and farther out, then "proofwalk read"`,
  },
  'read-explained': {
    topic: 'marks',
    say: (grade: string, byPixels: string, withDetail: string | null) =>
      `${grade} there, which explains it: ${byPixels} by pixels${withDetail === null ? '' : `, ${withDetail} with detail`}`,
  },
  'nothing-measured': {
    topic: 'marks',
    say: (reference: string | undefined, light: string, _promised: string) =>
      `no still${reference === undefined ? '' : ` of ${reference}`} in ${light} could be measured yet`,
    mend: (_reference: string | undefined, _light: string, promised: string) =>
      `give the stills their corners, or walk ${promised}`,
  },
  'none-counts': {
    topic: 'marks',
    say: (why: string) => `no still of it counts: ${why}`,
  },
  'mark-not-finite': {
    code: 'bad-argument',
    topic: 'program',
    say: 'a mark without a finite density or distance',
  },
  'unknown-grade': {
    topic: 'walk',
    say: (grading: string, grade: string, _known: readonly string[]) => `${grading} has no grade ${grade}`,
    mend: (_grading: string, _grade: string, known: readonly string[]) => `write one of ${known.join(', ')}`,
  },

  'infrared-focus': {
    topic: 'marks',
    means: 'a lens that is focused by day may focus elsewhere under infrared: focus it in the promised light',
    say: (reference: string, figures: string, mostLower: boolean) =>
      `${reference}: fine detail (${F10}) is ${figures}${mostLower ? '. The lens may focus elsewhere under infrared' : ''}`,
  },
  'walking-blur': {
    topic: 'marks',
    means:
      'what moves is blurred by a long exposure, or by noise reduction over several pictures: reduce either',
    say: (reference: string, figures: string, mostLower: boolean) =>
      `${reference}: fine detail (${F10}) is ${figures}${mostLower ? '. A walking person is blurred' : ''}`,
  },
})

function decidesNeither(isDecided: boolean): string {
  return isDecided ? '' : ', which does not decide it'
}
