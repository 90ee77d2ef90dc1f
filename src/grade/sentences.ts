import { catalogue } from '../sentences.js'

/** f10 in words, for sentences that go on behind it. */
const F10 = 'f10, the frequency at which contrast falls to 10 %'

/** What an interval may mostly come from, as it is told, and what to do about it. */
const PARTS = {
  points: {
    is: (reference: string) => `how exactly the corners of ${reference} are known`,
    mend: () => 'carry a larger board, or walk more marks',
  },
  clicks: {
    is: (reference: string) => `how exactly ${reference} was clicked`,
    mend: () => 'click closer, on the enlarged still, or carry a larger board',
  },
  tapes: {
    is: () => 'the tape at each mark',
    mend: () => 'tape closer and write distance.tolerance, or walk more marks',
  },
  start: { is: () => 'where the tape begins', mend: () => 'walk more marks, near and far' },
  size: {
    is: (reference: string) => `the size of ${reference}`,
    mend: () => 'measure it closer and write its tolerance',
  },
  bend: { is: () => 'the bend of the lens', mend: () => 'walk more marks, farther out' },
  lens: { is: () => 'the lens', mend: () => 'walk more marks, across the whole picture' },
  tone: {
    is: (teller: string) => `the detail of ${teller}, read by an assumed tone curve`,
    mend: () => 'carry the chart in that light, which measures the curve',
  },
  detail: {
    is: (teller: string) => `the detail of ${teller}`,
    mend: (teller: string) => `carry a larger ${teller}, or walk more marks with it`,
  },
} as const
export type DecidingPart = keyof typeof PARTS

/** All that grading says of marks, promises and pairs of walks. Figures come printed, by the printer of the walk. */
export const gradeSays = catalogue({
  'washed-out': {
    topic: 'contrast',
    say: (white: string, contrast: string) => `washed out: ${white} of it is at white, contrast ${contrast}`,
  },
  'too-noisy': {
    topic: 'contrast',
    say: (k: string, least: number) => `too noisy: a stroke stands out ${k} times, ${least} is needed`,
  },
  'nothing-stands-out': { topic: 'contrast', say: 'too noisy: a stroke of that size does not stand out' },
  'no-detail': {
    topic: 'detail',
    say: (told: string | undefined) => told ?? 'detail could not be measured',
  },

  'detail-from': { topic: 'detail', say: (lender: string) => `detail taken from ${lender}` },
  'detail-elsewhere': {
    topic: 'detail',
    means: 'detail is taken from another reference only where its marks stand on both sides',
    say: (lender: string, from: string, to: string) =>
      `${lender} tells it ${from === to ? `at ${from}` : `from ${from} to ${to}`} only`,
  },

  'left-out': {
    topic: 'marks',
    say: (fits: string, _turned: string) => `left out: judging by the other marks it was taken at ${fits}`,
    mend: (_fits: string, turned: string) => `check the tape and the still${turned}`,
  },
  'other-size': {
    topic: 'marks',
    means:
      'a still of another size than the others of its light is shown at its mark and counts nowhere: another stream, or scaled or cropped',
    say: (size: string, light: string, others: string) =>
      `left out: ${size}, and the series of ${light} has ${others}`,
    mend: 'export it at full size from the main stream',
  },
  'sizes-tie': {
    code: 'other-size',
    topic: 'marks',
    say: (sizes: readonly string[], light: string) =>
      `left out: as many stills of ${light} have ${sizes.join(' as ')}, and nothing says which are scaled`,
    mend: 'write the size of the export in walk.yaml (camera.image), or export all alike',
  },
  'held-turned': {
    topic: 'marks',
    say: (turn: string, grade: string) => `${turn}: held square to the camera it would reach ${grade}`,
  },
  'mark-left-out': {
    topic: 'marks',
    say: (mark: string, fits: string, turned: string) =>
      `the ${mark} mark is left out, judging by the others it was taken at ${fits}: check the tape and the still${turned}, and walk it again`,
  },
  'nothing-stands-out-there': { topic: 'marks', say: (why: string, at: string) => `${why} ${at}` },
  'no-detail-there': {
    topic: 'marks',
    say: (why: string, at: string, carry: string) => `${why} ${at}: carry a ${carry}, or judge by pixels`,
  },
  'turned-there': {
    topic: 'marks',
    means:
      'as it was held the reference stays under the limit, held square it would reach it: only a still of it held square shows that',
    say: (reference: string, turn: string | null, at: string, promised: string) =>
      `${reference} ${turn ?? 'looks shortened'} ${at}: walk ${promised} with it held square to the camera`,
  },
  'stroke-uncertain': {
    topic: 'marks',
    say: (counted: string) => `${counted}, but whether a stroke stands out from the noise is not certain`,
  },
  undecided: {
    topic: 'marks',
    means:
      'the largest part of the uncertainty decides what helps: points and clicks, tapes, where the tape begins, the size of the reference, the bend of the lens, or detail',
    say: (counted: string, limit: string, part: DecidingPart, percent: number, of: string) =>
      `undecided: ${counted}; the limit, ${limit}, lies inside that interval, whose largest part (${percent} %) is ${PARTS[part].is(of)}: ${PARTS[part].mend(of)}`,
  },
  decided: { topic: 'marks', say: (counted: string, limit: string) => `${counted}, ${limit} needed` },
  'between-marks': {
    topic: 'marks',
    means:
      'no still was measured at the promised distance: what all marks together measure decides, where stills stand on both sides of it',
    say: (promised: string, isApart: boolean, why: string, walkIt: boolean) =>
      `${isApart ? 'no still that counts' : 'no measured still'} at ${promised}; ${why}${walkIt ? `: walk ${promised}` : ''}`,
  },
  'stroke-not-shown': {
    topic: 'marks',
    say: (mark: string) => `a stroke is not shown to stand out at the ${mark} mark`,
  },
  'no-mark-holds': { topic: 'marks', say: 'no mark shows it to hold' },
  'beyond-usable': {
    topic: 'marks',
    say: (farthest: string) => `the farthest usable mark is ${farthest}, beyond it nothing is shown to hold`,
  },
  'nearer-than-usable': {
    topic: 'marks',
    means: 'a lamp near the camera may glare nearer by than any still shows',
    say: (nearest: string) => `the nearest usable mark is ${nearest}, nearer by nothing is shown to hold`,
  },
  'holds-from': { topic: 'marks', say: (from: string) => `it is shown to hold from ${from} on only` },
  'holds-at': {
    topic: 'marks',
    say: (holds: string, fails: string | null, isDecided: boolean) =>
      `it holds at the ${holds} mark${fails === null ? '' : ` and it fails at the ${fails} mark`}${decidesNeither(isDecided)}`,
  },
  'fails-at': { topic: 'marks', say: (fails: string) => `it fails at the ${fails} mark` },
  'nothing-measured': {
    topic: 'marks',
    say: (reference: string | undefined, light: string, promised: string) =>
      `no still${reference === undefined ? '' : ` of ${reference}`} in ${light} could be measured yet: give the stills their corners, or walk ${promised}`,
  },
  'none-counts': {
    topic: 'marks',
    say: (why: string) => `no still of it counts; ${why}`,
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

  'tape-begins-elsewhere': {
    topic: 'marks',
    means:
      "every mark's density says that the tape's zero does not lie at the lens: promises and ranges count from the lens",
    say: (by: string, isBefore: boolean, _begins: string) =>
      `the tape begins ${by} ${isBefore ? 'before' : 'behind'} the lens`,
    mend: (_by: string, _isBefore: boolean, begins: string) =>
      `tape from the lens, or write begins: ${begins} under distance in walk.yaml`,
  },
  'zoomed-between-lights': {
    topic: 'marks',
    means:
      'one light has another number of pixels per radian at every mark: zoom, another lens, another stream or export',
    say: (light: string, by: string, isMore: boolean) =>
      `${light}: ${by} ${isMore ? 'more' : 'fewer'} pixels per radian than in the other light: it was zoomed, or these stills are of another stream`,
  },
  'moved-between-lights': {
    topic: 'marks',
    means:
      'the distances of one light are all longer or shorter by the same length: the camera or the tape was moved',
    say: (light: string, by: string, isFarther: boolean) =>
      `${light}: the camera stands ${by} ${isFarther ? 'farther from' : 'nearer to'} the marks than in the other light`,
  },
  'size-disagrees': {
    topic: 'marks',
    means:
      'two references tell different densities at the same marks: the size of one of them is not as entered',
    say: (reference: string, by: string, isMore: boolean) =>
      `${reference}: density ${by} ${isMore ? 'more' : 'less'} than by what else was carried; a size is not as entered`,
    mend: 'measure both again',
  },
  'scaled-from-mark': {
    topic: 'marks',
    means: 'the stills of farther marks are enlarged or reduced against the nearer ones',
    say: (light: string | null, mark: string, by: string, isMore: boolean) =>
      `${light === null ? '' : `${light}: `}from the ${mark} mark on density is ${by} ${isMore ? 'more' : 'less'} than the nearer marks say: zoomed on the way, or exported otherwise`,
  },
  'pixels-not-square': {
    topic: 'marks',
    means:
      'the export scales across and upright differently, or the width or height of the reference was entered wrongly: tape it again',
    say: (where: string | null, by: string, isMore: boolean) =>
      `${where === null ? '' : `${where}: `}density across is ${by} ${isMore ? 'more' : 'less'} than upright at every mark; the exported pixels are not square, the sides of the reference are not as entered, or it was held turned alike everywhere`,
  },
  'corners-rougher': {
    topic: 'marks',
    means:
      'corners were set more roughly than is stated of their kind, or the reference is bent or held turned',
    say: (times: string) =>
      `corners lie ${times} times as far off as stated for how they were set: they do not fit a flat reference held square`,
    mend: 'click them again on the enlarged still',
  },
  'mark-out': {
    code: 'mark-left-out',
    topic: 'marks',
    say: (series: string, mark: string, fits: string, _turned: string) =>
      `${series}: the ${mark} mark fits none of the others, by them it was taken at ${fits}: it is left out`,
    mend: (_series: string, _mark: string, _fits: string, turned: string) =>
      `check its tape and its still${turned}`,
  },
  'marks-disagree': {
    topic: 'marks',
    means: 'one of several marks does not fit the others, and which one cannot be told: none is left out',
    say: (marks: string, likeliest: string, fits: string) =>
      `one of the ${marks} marks does not fit the others, and which cannot be told; were it the ${likeliest} mark, it was taken at ${fits}`,
    mend: 'tape them again',
  },
  'marks-scatter': {
    topic: 'marks',
    means: 'several things are wrong at once, or many tapes: intervals are widened by as much',
    say: (series: string, times: string) =>
      `${series}: the marks scatter ${times} times as far as stated, and no single cause explains it`,
    mend: 'tape them again',
  },
  'not-told-apart': {
    topic: 'marks',
    say: (cause: string, others: string) => `${cause}; the marks cannot tell this from ${others}`,
  },
  'infrared-focus': {
    topic: 'marks',
    means:
      'a lens that is focused by day may focus elsewhere under infrared: focus it in the light that was promised',
    say: (reference: string, figures: string, mostLower: boolean) =>
      `${reference}: fine detail (${F10}) is ${figures}${mostLower ? ': the lens may focus elsewhere under infrared' : ''}`,
  },
  'walking-blur': {
    topic: 'marks',
    means:
      'what moves is blurred by a long exposure, or by noise reduction over several pictures: shorten the one, lower the other',
    say: (reference: string, figures: string, mostLower: boolean) =>
      `${reference}: fine detail (${F10}) is ${figures}${mostLower ? ': what walks is drawn blurred' : ''}`,
  },

  'other-camera': { topic: 'compare', say: (how: string) => `not the same camera: ${how}` },
  'other-still-size': {
    topic: 'compare',
    say: (before: string, after: string) =>
      `the stills are ${before} px before and ${after} px after: another stream or export, so pixels do not compare`,
  },
  'same-picture': {
    topic: 'compare',
    means:
      'one picture stands under two names: in one walk under two marks or lights, where it counts nowhere, or in two walks, where it shows no change',
    say: (both: number, all: number) =>
      `${both} of the ${all} later pictures stand in the walk before as well: they show no change`,
    mend: 'say sameAs or distinct under stills in walk.yaml, or export the stills of each walk anew',
  },
  'other-method': {
    topic: 'compare',
    say: (before: string, after: string) => `measured by method ${before} before and ${after} after`,
    mend: 'measure both anew',
  },
  'other-distances': {
    topic: 'compare',
    say: (before: string, after: string) =>
      `distances were taped from the ${before} before and from the ${after} after, so the marks are not the same places`,
  },
  'other-grading': {
    topic: 'compare',
    say: (before: string, after: string) =>
      `judged by ${before} before and by ${after} after: verdicts do not compare, densities do`,
  },
  'other-reference': {
    topic: 'compare',
    say: (name: string, before: string, after: string) =>
      `${name} was ${before} before and is ${after} after: taken as another object, its size counts twice`,
  },
  'no-shared-mark': { topic: 'compare', say: 'no mark was measured in both walks' },
  'mark-not-shared': {
    topic: 'compare',
    say: (series: string, when: string, distances: string) =>
      `${series}: measured ${when} only, not compared: ${distances}`,
  },
  moved: {
    code: 'moved-or-zoomed',
    topic: 'compare',
    means:
      'another density everywhere, more near by than far off: the camera was moved along its view, or the tape began elsewhere, which densities do not tell apart',
    say: (change: string, by: string, isNearer: boolean) =>
      `another density everywhere, ${change} on the whole, more near by than far off: the camera stands some ${by} ${isNearer ? 'nearer to' : 'farther from'} the marks, or the tape began so far from where it did`,
  },
  zoomed: {
    code: 'moved-or-zoomed',
    topic: 'compare',
    means: 'another density everywhere, by the same share near and far: it was zoomed, or its lens changed',
    say: (change: string) =>
      `another density everywhere, ${change}, by the same share near and far: it was zoomed, or its lens changed`,
  },
  'moved-or-zoomed': {
    topic: 'compare',
    say: (change: string) => `another density everywhere, ${change}: the camera was moved or zoomed`,
  },
  'reference-or-hand': {
    topic: 'compare',
    means:
      'references that were clicked or made differently changed where others did not: tape them, and click the same edges on both walks; the camera did not change the density',
    say: (which: string, change: string, others: string) =>
      `another density on the ${which} alone, ${change}, where the ${others} did not change with it: its size or the hand that clicked it, not the camera`,
  },
  'as-likely': {
    topic: 'compare',
    say: (found: string, others: readonly string[]) =>
      `${found}; the marks do not tell it from ${others.join(', or from ')}`,
  },
  'points-elsewhere': {
    topic: 'compare',
    means:
      'the camera looks lower or higher: knocked. Sideways is not told: the line of marks may have been laid elsewhere',
    say: (degrees: string, isLower: boolean, within: string) =>
      `the camera looks ${degrees} degrees ${isLower ? 'lower' : 'higher'} than before (within ${within}): it was knocked or turned`,
  },
  'density-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means:
      'the density changed in one light alone: the picture is scaled or cropped there, or the stills are of another stream',
    say: (lights: string, change: string) =>
      `another density ${lights} alone, ${change}: the picture is scaled or cropped there, or these stills are of another stream`,
  },
  'less-detail-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means: 'detail was lost in one light alone: its focus, its lamp, or dirt that shows in that light',
    say: (lights: string, change: string, whose: string) =>
      `less detail ${lights} alone: ${F10}, changed by ${change}; ${whose} focus or lamp, or dirt that shows in that light`,
  },
  'more-detail-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means: 'one light alone shows more detail: it was focused or cleaned',
    say: (lights: string, change: string) =>
      `more detail ${lights} alone: ${F10}, changed by ${change}; that light was focused or cleaned`,
  },
  'focus-or-dirt': {
    topic: 'compare',
    means: 'less detail in every light: the focus, or dirt or damp on the window',
    say: (density: string, change: string) =>
      `${density}, less detail: ${F10}, changed by ${change}; the focus, or dirt or damp on the window`,
  },
  sharper: {
    topic: 'compare',
    means: 'more detail in every light: it was focused or cleaned',
    say: (density: string, change: string) =>
      `${density}, more detail: ${F10}, changed by ${change}; it was focused or cleaned`,
  },
  'contrast-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means: 'less stands out of the noise in one light alone: its lamp has failed, fouled or turned away',
    say: (lights: string, what: string) =>
      `less stands out ${lights} alone (${what}): its lamp or infrared light has failed, fouled or turned away`,
  },
  'less-contrast': {
    topic: 'compare',
    means:
      'less stands out of the noise in every light: exposure, dirt or damp on the window, or a failing imager',
    say: (what: string) =>
      `less stands out in every light (${what}): exposure, dirt or damp on the window, or a failing imager`,
  },
  'density-at-one-mark': {
    code: 'one-mark',
    topic: 'compare',
    means: 'one mark alone has another density: its tape, its still, or how the reference was held',
    say: (mark: string, change: string) =>
      `${mark} mark alone has another density, ${change}: its tape, its still or how the reference was held`,
  },
  'detail-at-one-mark': {
    code: 'one-mark',
    topic: 'compare',
    means: 'one mark alone has another share of detail: its still, or motion',
    say: (mark: string, change: string) =>
      `${mark} mark alone has another share of detail, ${change}: its still, or motion`,
  },
})

function decidesNeither(isDecided: boolean): string {
  return isDecided ? '' : ', which decides neither'
}
