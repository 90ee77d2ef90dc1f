import { oneLine } from '../../files/oneLine.js'
import { catalogue } from '../../sentences.js'
import { printedValue } from '../../units/printedEstimate.js'

const CHART = { topic: 'chart' } as const
const STILLS = { topic: 'stills' } as const
const STALE = { topic: 'walk', code: 'stale' } as const

/** All that is said of charts as they are looked for, of a walk's export, and of results that no longer belong to their walk. */
export const measuringSays = catalogue({
  'chart-none': {
    ...CHART,
    means:
      "no chart is found where the picture's edge cuts its frame, something covers it, its light is broken or it is too small",
    say: 'no chart was found in this still',
    mend: (elseMend: string | null) =>
      `show it whole (one whose frame the picture's edge cuts is not found), uncovered and evenly lit, at 1.5 px a module at least by day and 2.5 in the dark${elseMend === null ? '' : `, or ${elseMend}`}`,
  },
  'chart-two': {
    ...CHART,
    say: 'two charts are in view, so neither is measured',
    mend: 'show one alone, or give the corners of one in picks.json',
  },
  'chart-mirrored': {
    ...CHART,
    say: 'the chart is seen in a mirror, or the still is flipped',
    mend: 'export it unflipped, or show the chart itself',
  },
  'chart-which': {
    ...CHART,
    say: (names: string) => `which of ${names} the chart is cannot be read at this size`,
    mend: 'name it under stills in walk.yaml',
  },
  'chart-of-none': {
    ...CHART,
    code: 'chart-other-paper',
    say: (found: string, names: string) =>
      `the chart in this still is the ${found} one, which none of ${names} is`,
    mend: 'correct walk.yaml',
  },
  'chart-other-paper': {
    ...CHART,
    say: (found: string, asked: string) =>
      `the chart in this still is the ${found} one, not the ${asked} one that is asked for`,
    mend: 'correct the paper, or show the right chart',
  },
  'chart-bent': {
    ...CHART,
    say: 'the chart is bent, so its density is not told',
    mend: 'hold it flat, on a board',
  },
  'chart-covered': {
    ...CHART,
    say: 'too much of the chart is covered, or lies in another light',
    mend: 'show it whole',
  },
  'chart-too-blurred': {
    ...CHART,
    say: 'the chart is too blurred for its size',
    mend: 'show it nearer, or a larger one',
  },
  'chart-no-fit': {
    ...CHART,
    say: 'the chart was seen but cannot be measured: too faint, curled, or in broken light',
    mend: 'hold it flat and evenly lit',
  },
  'chart-part-covered': {
    ...CHART,
    means:
      'a hand, a shadow or another thing lies over part of the chart: what is left is measured and stated less surely; show it whole and evenly lit',
    say: 'something covers part of the chart, a shadow runs over it, or its margin was cut off: its density is told from the rest of it and less surely',
  },
  'chart-torn': {
    topic: 'stills',
    code: 'interlaced',
    say: 'odd and even rows show the chart in two places: the still joins two fields, between which it moved',
    mend: 'set the camera to full frames, or stand still',
  },
  'chart-untaped': {
    ...CHART,
    say: (name: string, paper: string, width: string) =>
      `${name}: nobody taped the ${paper} chart, so ${width} is taken for its frame`,
    mend: 'tape it and write printedWidth',
  },
  'chart-scaled': {
    ...CHART,
    means: 'the printer scaled the chart, which is no fault: it is measured with the width as taped',
    say: (name: string, paper: string, scale: number, width: string, trueWidth: string) =>
      `${name}: the ${paper} chart was printed at ${printedValue(100 * scale, 1)} %, ${width} instead of ${trueWidth}; measured with the taped width`,
  },

  'still-took-too-long': {
    ...STILLS,
    say: (mostMs: number) => `measuring it took more than ${mostMs / 1000} s and was ended`,
    mend: 'export the still again, or crop it; measure once more where the machine was busy',
  },
  'still-out-of-memory': {
    ...STILLS,
    say: 'measuring it took more memory than there is',
    mend: 'export it smaller, or measure with fewer --workers',
  },
  'still-died': {
    ...STILLS,
    means: 'a fault of our own or of the decoder, which cost this still alone',
    say: (why: string) => `measuring it broke off (${oneLine(why)})`,
    mend: 'export the still again; where it stays so, please report it',
  },

  'begins-added': {
    topic: 'marks',
    means:
      'distance.begins of walk.yaml: marks, stills and ranges are printed as they count from the lens, not as the tape read; names of stills stay',
    say: (by: string, isBefore: boolean) =>
      `${by} is ${isBefore ? 'added to' : 'taken off'} every taped distance: the tape's zero lies so far ${isBefore ? 'before' : 'behind'} the lens`,
  },
  'export-sizes-differ': {
    ...STILLS,
    means:
      'the stills of the walk come of different streams, or some were scaled: export all of them from the main stream',
    say: (most: string, count: number, others: readonly string[], apart: readonly string[]) =>
      `${count} stills have ${most}, but ${others.join(', ')}: another stream, or scaled; ${
        apart.length === 0
          ? 'densities are those of each still itself'
          : `of another size than the series of its light, so not counted: ${apart.join(', ')}`
      }; export all of them from the main stream`,
  },
  'detail-under-size': {
    ...STILLS,
    means:
      'no still holds the detail of its size: scaled up from a smaller stream, or out of focus; export at full size, then look at focus and glass',
    say: (bestF10: number, holding: string, size: string) =>
      `no still shows detail finer than ${printedValue(bestF10, 2)} cycles per pixel (f10), about what ${holding} px can hold: a smaller stream scaled up to ${size} px, or a lens out of focus or dirty`,
  },

  'no-results-yet': { ...STALE, say: 'there are no results yet' },
  'results-of-other-version': { ...STALE, say: 'results.json is not of this version' },
  'no-entry': { ...STALE, say: 'has no entry' },
  'one-picture': {
    ...STALE,
    code: 'same-picture',
    say: (files: string, isCertain: boolean) =>
      `${files} ${isCertain ? 'are' : 'may be'} one picture: none of them counts`,
    mend: 'say in walk.yaml, under stills, of which it is a copy (sameAs), or that it is none (distinct: yes)',
  },
  'same-picture-here': {
    ...STALE,
    code: 'same-picture',
    say: (other: string, isCertain: boolean) =>
      isCertain
        ? `shows the same picture as ${other}; the two count once`
        : `may be the same picture as ${other}, encoded again or cut out; the two count once until walk.yaml says distinct of one, under stills`,
  },
  'same-picture-elsewhere': {
    ...STALE,
    code: 'same-picture',
    say: (other: string, isCertain: boolean) =>
      `${isCertain ? 'shows' : 'may be'} the same picture as ${other}, at another mark or in another light; neither counts until walk.yaml says sameAs or distinct of one, under stills`,
  },
  'copy-unlike': {
    ...STALE,
    code: 'copy-unlike',
    say: (other: string) =>
      `left out by the word of walk.yaml alone, as a copy of ${other}: its pixels do not show that it is one`,
    mend: 'delete sameAs where it is a picture of its own',
  },
  'results-say-otherwise': { ...STALE, say: (how: string) => `results.json: ${how}` },
  'method-changed': { ...STALE, say: 'the way of measuring has changed since' },
  'input-changed': { ...STALE, say: (what: string) => `${what} has changed since` },
  'stills-not-opened': { ...STALE, say: 'some stills could not be opened then' },
})
