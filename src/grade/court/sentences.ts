import { catalogue } from '../../sentences.js'

/** What may be wrong with a walk, by its kind, in words that go on a sentence. */
export const CAUSE_NAMES = {
  start: 'a tape measure that starts elsewhere',
  zoomed: 'a zoom',
  moved: 'a camera that moved',
  size: 'a size entered wrongly',
  mark: 'one mark alone',
  scaled: 'stills scaled on the way',
  aspect: 'pixels that are not square',
  rougher: 'corners set roughly',
  lookedDown: 'a reference looked down on',
} as const

/** What the court of causes says is wrong with a walk. Figures come printed, by the printer of the walk. */
export const courtSays = catalogue({
  'tape-begins-elsewhere': {
    topic: 'marks',
    means:
      'the densities show that the zero of the tape measure is not at the lens. Promises and ranges count from the lens',
    say: (by: string, isBefore: boolean, _begins: string) =>
      `the tape measure starts ${by} ${isBefore ? 'in front of' : 'behind'} the lens`,
    mend: (_by: string, _isBefore: boolean, begins: string) =>
      `measure from the lens, or write begins: ${begins} under distance in walk.yaml`,
  },
  'zoomed-between-lights': {
    topic: 'marks',
    means:
      'one light has another number of pixels per radian at every mark: a zoom, another lens, stream or export',
    say: (light: string, by: string, isMore: boolean) =>
      `${light}: ${by} ${isMore ? 'more' : 'fewer'} pixels per radian than in the other light. It was zoomed, or these stills are of another stream`,
  },
  'moved-between-lights': {
    topic: 'marks',
    means:
      'the distances of one light are all longer or shorter by the same length: the camera or the tape measure was moved',
    say: (light: string, by: string, isFarther: boolean) =>
      `${light}: the camera stands ${by} ${isFarther ? 'farther from' : 'nearer to'} the marks than in the other light, or the tape measure was laid out again`,
  },
  'size-disagrees': {
    topic: 'marks',
    means: 'two references give different densities at the same marks: the size of one is not as entered',
    say: (reference: string, by: string, isMore: boolean) =>
      `${reference}: density ${by} ${isMore ? 'more' : 'less'} than by the other references. A size is not as entered, or they were not held at one place`,
    mend: 'measure both again',
  },
  'scaled-from-mark': {
    topic: 'marks',
    means: 'the stills of farther marks are enlarged or reduced against the nearer ones',
    say: (light: string | null, mark: string, by: string, isMore: boolean) =>
      `${light === null ? '' : `${light}: `}from the ${mark} mark on, density is ${by} ${isMore ? 'more' : 'less'} than the nearer marks say: the camera was zoomed, or the export changed`,
  },
  'pixels-not-square': {
    topic: 'marks',
    means:
      'the export scales width and height differently, or a side of the reference was entered wrongly: measure it again',
    say: (where: string | null, by: string, isMore: boolean, mayBeTurn: boolean) =>
      `${where === null ? '' : `${where}: `}density across is ${by} ${isMore ? 'more' : 'less'} than upright at every mark. The exported pixels are not square${mayBeTurn ? ', the sides of the reference are not as entered, or it was always held turned alike' : ', or the sides of the reference are not as entered'}`,
  },
  'corners-rougher': {
    topic: 'marks',
    means: 'corners were set more roughly than stated, or the reference is bent or held turned',
    say: (times: string) =>
      `corners lie ${times} times as far off as stated: they do not fit a flat reference held square`,
    mend: 'zoom in and click them again',
  },
  'mark-out': {
    code: 'mark-left-out',
    topic: 'marks',
    say: (series: string, mark: string, fits: string, _turned: string) =>
      `${series}: the ${mark} mark does not fit the others and is left out. Judging by them it was taken at ${fits}`,
    mend: (_series: string, _mark: string, _fits: string, turned: string) =>
      `check its distance and its still${turned}`,
  },
  'marks-disagree': {
    topic: 'marks',
    means: 'one of several marks does not fit the others, and it is not clear which one. None is left out',
    say: (marks: string, likeliest: string, fits: string) =>
      `one of the ${marks} marks does not fit the others, and it is not clear which. If it is the ${likeliest} mark, it was taken at ${fits}`,
    mend: 'measure their distances again',
  },
  'marks-scatter': {
    topic: 'marks',
    means: 'several things are wrong at once, or many distances. All intervals are widened to match',
    say: (series: string, times: string) =>
      `${series}: the marks scatter ${times} times as far as stated, and no single cause explains it`,
    mend: 'measure their distances again',
  },
  'not-told-apart': {
    topic: 'marks',
    say: (cause: string, others: string) => `${cause}. The marks cannot distinguish this from ${others}`,
  },
})
