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
      "a chart is not found if the picture's edge cuts its frame, something covers it, its light is uneven, or it is too small",
    say: 'no chart was found in this still',
    mend: (elseMend: string | null) =>
      `show all of it, uncovered and evenly lit, with at least 1.5 px a module by day and 2.5 in the dark${elseMend === null ? '' : `, or ${elseMend}`}`,
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
      `the chart in this still reads as the ${found} one, and none of ${names} is`,
    mend: 'correct walk.yaml',
  },
  'chart-other-paper': {
    ...CHART,
    say: (found: string, asked: string) =>
      `the chart in this still reads as the ${found} one, not as the ${asked} one that is asked for`,
    mend: 'correct the paper, show the right chart, or show it nearer where it is blurred',
  },
  'chart-bent': {
    ...CHART,
    say: 'the chart is bent, so its density is not reported',
    mend: 'mount it flat on a board',
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
      'something, such as a hand or a shadow, covers part of the chart. The rest is measured, less certainly. Show it whole and evenly lit',
    say: 'something covers part of the chart, a shadow runs over it, its margin was cut off, or the codec smeared it. Its density comes from the rest, less certainly',
  },
  'chart-torn': {
    topic: 'stills',
    code: 'interlaced',
    say: 'odd and even rows show the chart in two places, because it moved between the two fields of the still',
    mend: 'set the camera to full frames, or stand still',
  },
  'chart-untaped': {
    ...CHART,
    say: (name: string, paper: string, width: string) =>
      `${name}: nobody measured the ${paper} chart after printing, so ${width} is assumed for its frame`,
    mend: 'measure it and write printedWidth',
  },
  'chart-scaled': {
    ...CHART,
    means: 'the printer scaled the chart, which does no harm: the width measured on the print is used',
    say: (name: string, paper: string, scale: number, width: string, trueWidth: string) =>
      `${name}: the ${paper} chart was printed at ${printedValue(100 * scale, 1)} %, ${width} instead of ${trueWidth}. The width measured on the print is used`,
  },

  'still-took-too-long': {
    ...STILLS,
    say: (mostMs: number) => `measuring it took more than ${mostMs / 1000} s and was stopped`,
    mend: 'export the still again, or measure once more if the machine was busy',
  },
  'still-out-of-memory': {
    ...STILLS,
    say: 'measuring it took more memory than there is',
    mend: 'export it smaller, or measure with fewer --workers',
  },
  'still-died': {
    ...STILLS,
    means: 'a fault of this program or of the decoder, which affects this still alone',
    say: (why: string) => `measuring it broke off (${oneLine(why)})`,
    mend: 'export the still again, and report it if that does not help',
  },

  'begins-added': {
    topic: 'marks',
    means:
      'by distance.begins in walk.yaml marks, stills and ranges are printed as counted from the lens, not as the tape measure read. Names of stills stay',
    say: (by: string, isBefore: boolean) =>
      `${by} is ${isBefore ? 'added to' : 'taken off'} every measured distance, because the zero of the tape measure lies that far ${isBefore ? 'in front of' : 'behind'} the lens`,
  },
  'border-seen': {
    topic: 'picks',
    means:
      'how the edge of a plate is made was not measured but taken from a still that shows it, as a person let it. Measure the border, and write it into walk.yaml',
    say: (reference: string, file: string) =>
      `how the edge of ${reference} is made was taken from ${file}, where it is seen; nobody measured it`,
  },
  'export-sizes-differ': {
    ...STILLS,
    means:
      'the stills of the walk come from different streams, or some were scaled: export all of them from the main stream',
    say: (most: string, count: number, others: readonly string[], apart: readonly string[]) =>
      `${count} stills have ${most}, but ${others.join(', ')}: another stream, or scaled. ${
        apart.length === 0
          ? 'Densities are those of each still itself'
          : `Not counted, as their size differs from the series of their light: ${apart.join(', ')}`
      }; export all of them from the main stream`,
  },
  'detail-under-size': {
    ...STILLS,
    means:
      'no still has the detail of its size: it was scaled up, or the lens is out of focus. Export at full size, then check focus and glass',
    say: (bestF10: number, holding: string, size: string) =>
      `no still shows detail finer than ${printedValue(bestF10, 2)} cycles per pixel (f10), about what ${holding} px can hold. A smaller stream was scaled up to ${size} px, or the lens is dirty or out of focus`,
  },

  'no-results-yet': { ...STALE, say: 'there are no results yet' },
  'results-of-other-version': { ...STALE, say: 'results.json is not of this version' },
  'no-entry': { ...STALE, say: 'has no entry' },
  'one-picture': {
    ...STALE,
    code: 'same-picture',
    say: (files: string, isCertain: boolean) =>
      `${files} ${isCertain ? 'are' : 'may be'} one picture: none of them counts`,
    mend: 'under stills in walk.yaml write what it is a copy of (sameAs), or that it is not a copy (distinct: yes)',
  },
  'same-picture-here': {
    ...STALE,
    code: 'same-picture',
    say: (other: string, isCertain: boolean) =>
      isCertain
        ? `shows the same picture as ${other}, so the two count once`
        : `may be the same picture as ${other}, encoded again or cropped, or the next frame of the recording. The two count once, unless walk.yaml calls one of them distinct under stills`,
  },
  'same-picture-elsewhere': {
    ...STALE,
    code: 'same-picture',
    say: (other: string, isCertain: boolean) =>
      `${isCertain ? 'shows' : 'may be'} the same picture as ${other}, at another mark or in another light. Neither counts until walk.yaml calls one of them sameAs or distinct under stills`,
  },
  'copy-unlike': {
    ...STALE,
    code: 'copy-unlike',
    say: (other: string) =>
      `left out because walk.yaml calls it a copy of ${other}, although its pixels do not show that`,
    mend: 'delete sameAs if it is a picture of its own',
  },
  'results-say-otherwise': { ...STALE, say: (how: string) => `results.json: ${how}` },
  'method-changed': { ...STALE, say: 'the way of measuring has changed since' },
  'input-changed': { ...STALE, say: (what: string) => `${what} has changed since` },
  'stills-not-opened': { ...STALE, say: 'some stills could not be opened then' },
})
