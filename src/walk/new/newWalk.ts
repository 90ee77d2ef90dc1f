import { stringify } from 'yaml'
import { isByDay } from '../../chart/printed/chartReach.js'
import { isChart, type Reference } from '../../measure/reference/reference.js'
import type { Task } from '../../grade/gradings/builtInGradings.js'
import { problem } from '../../sentences.js'
import { figuresFor } from '../../units/figures.js'
import { type MeasuredWith, measuringTools } from './measuredWith.js'
import { newSays } from './sentences.js'

/** A thing carried along: its name in the walk, what was asked for, and the keys it is written with. */
export interface Carried {
  readonly name: string
  readonly reference: Reference
  /** The id of its preset, or null where its size is its own. */
  readonly preset: string | null
  /** Its size as it was typed, which says whether it is written in feet. */
  readonly written?: string
}

/** What the camera must do, and the grade that asks for. */
export interface NewPromise {
  /** Null where it is reading alone. */
  readonly grade: string | null
  /** How many characters are to be read in the reading trial, as walk.yaml has it: `95 %`; left out where none are. */
  readonly read?: string
  /** As it was typed: `16 m`. */
  readonly at: string
  readonly light: string
  /** The task it was asked for by; null where the grade itself was given. */
  readonly task?: Task | null
  /** The name of what is carried that it is told on; null where only one thing is carried. */
  readonly reference?: string | null
  /** Why this grade: the task in the reader's words and its source; null where the grade itself was given. */
  readonly because: string | null
}

/** Everything `new` was told. */
export interface NewWalk {
  readonly site: string
  /** Null where it was not said. */
  readonly client: string | null
  /** Of the walk; null where its stills are to tell it. */
  readonly date: string | null
  readonly cameraName: string
  readonly feet: boolean
  readonly image: { readonly width: number; readonly height: number } | null
  readonly fieldOfViewDeg: { readonly horizontal: number | null; readonly vertical: number | null }
  /** Lengths as they were typed. */
  readonly focalLength: string | null
  readonly mountHeight: string | null
  readonly sensor: string | null
  readonly carried: readonly Carried[]
  readonly measuredWith: MeasuredWith
  readonly grading: string
  readonly marks: readonly string[]
  readonly lights: readonly string[]
  readonly promises: readonly NewPromise[]
}

/**
 * Whether nothing carried has quiet ground beside its edges: detail cannot be measured on plates, nor on a length,
 * so such a walk is judged by pixels alone.
 */
export function judgesByPixels(carried: readonly Carried[]): boolean {
  return !carried.some(
    ({ reference }) =>
      isChart(reference) || (reference.kind === 'rectangle' && reference.marking === 'plain'),
  )
}

/** Why such a walk is judged by pixels, in one sentence. */
export const BY_PIXELS_REASON = problem(newSays['judged-by-pixels']()).message

/** What stands in a new walk as an example, and the tolerance of a size nobody gave one for: the finest line of a common tape. */
const EXAMPLES = {
  metres: {
    mark: '16 m',
    tolerance: '1 mm',
    board: 'width: 600 mm, height: 400 mm',
    staff: '2 m',
    chart: 'chart: A2, printedWidth: 485 mm',
    mountHeight: '2.6 m',
  },
  feet: {
    mark: '50 ft',
    tolerance: '1/16 in',
    board: 'width: 24 in, height: 16 in',
    staff: '6 ft',
    chart: 'chart: Tabloid, printedWidth: 12 3/4 in',
    mountHeight: '8 ft 6 in',
  },
} as const

/** The text of a new walk.yaml: sound as it stands, every other key beside it as a comment. */
export function newWalkText(walk: NewWalk): string {
  const tool = measuringTools[walk.measuredWith]
  const like = EXAMPLES[walk.feet ? 'feet' : 'metres']
  return [
    '# One camera, one position, one set of stills. Lengths take mm, cm, m, ft, in.',
    '# "proofwalk schema walk" describes every key. Lines that begin with # are not read.',
    `site: ${scalar(walk.site)}`,
    walk.date === null
      ? '# date: 2026-03-14              # of the walk; without it, the one that names and clocks of the stills agree on'
      : `date: ${walk.date}                # of the walk; printed on the sheet`,
    walk.client === null
      ? '# people: { client: Harbour office (invented), walkedBy: the fitter, measuredBy: the fitter }'
      : `people: { client: ${scalar(walk.client)} }   # also walkedBy, measuredBy`,
    '# issuer: { name: Slipway Security (invented), logo: logo.png }    # the logo lies in this folder',
    `# conditions: [{ light: ${scalar(walk.lights[0] ?? 'day')}, note: "overcast, dry", illuminance: 800 lx }]`,
    '# notes: anything else for the sheet',
    '',
    ...cameraLines(walk),
    '',
    walk.feet
      ? 'units: imperial                  # tables and sheet in feet, and px/ft beside px/m'
      : '# units: imperial                # tables and sheet in feet, and px/ft beside px/m',
    `grading: ${walk.grading}       # "proofwalk list gradings", or the path of a grading file in this folder`,
    ...judgeLines(walk),
    '# sheet: { paper: Letter, mask: plates }   # how the sheet is written: A4 or Letter; none, plates, people or both hidden',
    '',
    'references:                      # what is carried; "proofwalk list references"',
    ...walk.carried.map((one) => `  ${scalar(one.name)}: ${referenceText(one, walk.feet)}`),
    ...(judgesByPixels(walk.carried) ? [`  # board: { ${like.board}, tolerance: ${like.tolerance} }`] : []),
    `  # staff: { length: ${like.staff}, tolerance: ${like.tolerance} }`,
    ...chartLines(walk),
    '',
    `distance: { from: camera, tolerance: ${walk.feet ? tool.toleranceInFeet : tool.tolerance} }   # ${tool.words}`,
    '# A plan, not a limit: a still at another distance makes its own mark.',
    `marks: [${walk.marks.join(', ')}]`,
    'lights:                          # each has its folder in stills/',
    ...walk.lights.map((light) => `  - ${scalar(light)}`),
    '',
    ...promiseLines(walk),
    '',
    '# For stills whose names say nothing; others are called by their distance, such as',
    `# stills/${walk.lights[0] ?? 'day'}/${like.mark.replace(' ', '')}.jpg`,
    '# stills:',
    `#   - { file: stills/export-0001.jpg, mark: ${walk.marks[0] ?? like.mark}, light: ${scalar(walk.lights[0] ?? 'day')}, reference: ${scalar(walk.carried[0]?.name ?? 'plate')} }`,
    '',
    '# What was seen by eye:',
    '# observations:',
    `#   - { mark: ${walk.marks[0] ?? like.mark}, light: ${scalar(walk.lights[0] ?? 'day')}, triggered: yes, by: recording, plateRead: no, faceKnown: no, note: from the left }`,
    '',
  ].join('\n')
}

/** What to do with a chart after printing; where none is carried, how one would be written. */
function chartLines({ carried, lights, feet }: NewWalk): string[] {
  const charts = carried.map(({ reference }) => reference).filter(isChart)
  const isDark = !lights.every(isByDay) && !judgesByPixels(carried)
  const strips = isDark
    ? [
        '  # After dark carry the strips too: "proofwalk chart --strip" prints them, strip: A3 in the braces of the chart or the board has them read.',
      ]
    : []
  if (charts.length === 0)
    return [
      `  # chart: { ${EXAMPLES[feet ? 'feet' : 'metres'].chart} }       # found by itself; "proofwalk chart" prints it`,
      ...strips,
    ]
  return [
    "  # Measure the outer width of the chart's black frame once it is printed, and write it as printedWidth.",
    ...strips,
  ]
}

function cameraLines(walk: NewWalk): string[] {
  const { horizontal, vertical } = walk.fieldOfViewDeg
  const sides = [
    ...(horizontal === null ? [] : [`horizontal: ${horizontal}`]),
    ...(vertical === null ? [] : [`vertical: ${vertical}`]),
  ]
  const or = (line: string | null, example: string) => (line === null ? `  # ${example}` : `  ${line}`)
  const key = (name: string, value: string | null) => (value === null ? null : `${name}: ${value}`)
  return [
    'camera:',
    `  name: ${scalar(walk.cameraName)}`,
    '  # id: C-07',
    '  # serial: "60317"',
    '  # settings: shutter 1/50, 8 Mbit/s',
    or(
      walk.image === null ? null : `image: { width: ${walk.image.width}, height: ${walk.image.height} }`,
      'image: { width: 3840, height: 2160 }          # px of the exported still',
    ),
    or(
      sides.length === 0 ? null : `fieldOfView: { ${sides.join(', ')} }`,
      'fieldOfView: { horizontal: 100, vertical: 52 } # degrees, from the data sheet; either or both',
    ),
    ...(sides.length > 0 && walk.image === null
      ? ['  # the field of view cannot be read without image: write the size of an exported still there']
      : []),
    or(key('focalLength', walk.focalLength), 'focalLength: 6.6 mm'),
    or(key('sensor', walk.sensor), 'sensor: 1/1.7                                 # or "7.6 x 4.3 mm"'),
    '  # pixelPitch: 2 um',
    or(
      key('mountHeight', walk.mountHeight),
      `mountHeight: ${EXAMPLES[walk.feet ? 'feet' : 'metres'].mountHeight}`,
    ),
    '  # tilt: 12                                      # degrees down',
  ]
}

function judgeLines(walk: NewWalk): string[] {
  if (!judgesByPixels(walk.carried)) {
    return [
      "judge: detail                    # or pixels: by pixel count alone, as the standard's table does",
    ]
  }
  return ['# By pixel count alone:', `# ${BY_PIXELS_REASON}.`, 'judge: pixels']
}

function promiseLines(walk: NewWalk): string[] {
  if (walk.promises.length === 0) {
    const at = walk.marks.at(-1) ?? EXAMPLES[walk.feet ? 'feet' : 'metres'].mark
    const light = scalar(walk.lights[0] ?? 'day')
    return [
      '# What the camera was sold to do:',
      '# promises:',
      `#   - { grade: recognise, at: ${at}, light: ${light} }`,
    ]
  }
  return [
    'promises:                        # what the camera was sold to do',
    ...walk.promises.flatMap(({ grade, at, light, because, reference, task, read }) => [
      ...(because === null ? [] : [`  # ${because}`]),
      `  - { ${(task ?? null) === null ? '' : `task: ${task!}, `}${read === undefined ? '' : `read: ${read}, `}${grade === null ? '' : `grade: ${grade}, `}at: ${at}, light: ${scalar(light)}${(reference ?? null) === null ? '' : `, reference: ${scalar(reference!)}`} }`,
    ]),
  ]
}

function referenceText({ reference, preset, written }: Carried, feet: boolean): string {
  if (isChart(reference)) {
    const width = figuresFor(feet ? 'imperial' : 'metric').ruled(reference.widthM)
    return `{ chart: ${reference.chart.paper} }   # add printedWidth: <the width you measure>; ${width} at true scale`
  }
  if (preset !== null) return `{ preset: ${preset} }`
  const length = (lengthM: number) => exactLength(lengthM, feet, written ?? '')
  if (reference.kind === 'length') {
    return `{ length: ${length(reference.lengthM)}, tolerance: ${EXAMPLES[feet ? 'feet' : 'metres'].tolerance} }`
  }
  const sides = `width: ${length(reference.widthM)}, height: ${length(reference.heightM)}`
  return `{ ${sides}, tolerance: ${EXAMPLES[feet ? 'feet' : 'metres'].tolerance} }`
}

/** A size to the hundredth of a millimetre, or in feet or inches where that is what it was given in. */
function exactLength(lengthM: number, feet: boolean, written: string): string {
  const wholeFeet = Number((lengthM / 0.3048).toFixed(6))
  if (/\d\s*(ft|feet|foot|')/i.test(written) && Number.isInteger(wholeFeet * 4)) return `${wholeFeet} ft`
  const inches = Number((lengthM / 0.0254).toFixed(6))
  if ((feet || /ft|in|['"]/i.test(written)) && Number.isInteger(inches * 16)) return `${inches} in`
  return `${Number((lengthM * 1000).toFixed(2))} mm`
}

/** Text as YAML takes it inside brackets as well as outside. */
function scalar(text: string): string {
  const inBrackets = stringify([text], { collectionStyle: 'flow', lineWidth: 0 }).trim()
  return inBrackets.slice(1, -1).trim()
}
