// Damages still files (JPEG, PNG, WebP, TIFF, AVIF) and the texts of a walk at random, and measures or reads each: none may crash, hang or eat memory, and a still that is measured
// all the same is held to what its original gives. A figure off by more than both uncertainties with no word that was not said of the original counts as silent; the kinds of
// damage that can be so are listed here and printed, any other fails; so does a contrast too faint to be read that stands out. The same cases every time. Argument: how many cases (20000).
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import { ProofwalkError } from '../src/errors.js'
import { textOf } from '../src/files/readInnerFile.js'
import { DEFAULT_LEAST_ROSE_K } from '../src/grade/gradings/grading.js'
import { type Random, seededRandom } from '../src/math/random.js'
import type { StillMeasurement } from '../src/measure/stillMeasurement.js'
import { runStillTask } from '../src/walk/measure/runStillTask.js'
import { listedWalks } from '../src/walk/new/camerasCsv.js'
import { promisedBy } from '../src/walk/new/newPromise.js'
import { namedGrading, readGrading } from '../src/walk/read/readGrading.js'
import { parseWalk } from '../src/walk/read/parseWalk.js'
import { parsePicks } from '../src/walk/read/readPicks.js'
import type { StillTaskResult } from '../src/walk/stills/stillTask.js'

const CASES = Number(process.argv[2] ?? 20_000)
/** On a machine of two cores that others load as well. */
const MOST_MS = 30_000
const MOST_MB = 600

/**
 * Damage after which a figure was off without a word in 20,000 cases: these formats, or this place in them (a PNG's chunks of colour), carry no check of their data that the decoder
 * looks at, and what is left is a picture like any other. None whose contrast is too faint to be read.
 */
const KNOWN_SILENT: Readonly<Record<string, readonly string[]>> = {
  jpeg: ['a bit turned over', 'a number at its bound'],
  'jpeg-progressive': ['a bit turned over', 'a piece left out'],
  png: ['a bit turned over'],
  tiff: ['a bit turned over', 'some bytes anew'],
  'tiff-deflate': ['a bit turned over'],
  webp: [
    'a bit turned over',
    'a number at its bound',
    'a piece of noughts',
    'a piece twice',
    'some bytes anew',
  ],
  'webp-lossless': ['a bit turned over', 'a piece of noughts', 'some bytes anew'],
}

type Bytes = Uint8Array
const whole = (random: Random, below: number): number =>
  Math.min(below - 1, Math.floor(random.uniform() * below))
const piece = (random: Random, { length }: Bytes): [number, number] => {
  const from = whole(random, length)
  return [from, Math.min(length, from + 1 + whole(random, Math.max(2, Math.floor(length / 20))))]
}
const filled = (bytes: Bytes, from: number, to: number, value: number): Bytes =>
  new Uint8Array(bytes).fill(value, from, to)
const joined = (...parts: Bytes[]): Bytes => new Uint8Array(Buffer.concat(parts))

const DAMAGES: Readonly<Record<string, (bytes: Bytes, random: Random, format: string) => Bytes>> = {
  'a bit turned over': (bytes, random) => {
    const at = whole(random, bytes.length)
    return filled(bytes, at, at + 1, bytes[at]! ^ (1 << whole(random, 8)))
  },
  'some bytes anew': (bytes, random) => {
    const out = new Uint8Array(bytes)
    for (let left = 1 + whole(random, 20); left > 0; left--)
      out[whole(random, out.length)] = whole(random, 256)
    return out
  },
  'a number at its bound': (bytes, random) => {
    const at = whole(random, Math.min(bytes.length - 4, 600))
    return filled(bytes, at, at + (random.uniform() < 0.5 ? 2 : 4), random.uniform() < 0.5 ? 0xff : 0)
  },
  'a piece of noughts': (bytes, random) => filled(bytes, ...piece(random, bytes), 0),
  'a piece left out': (bytes, random) => {
    const [from, to] = piece(random, bytes)
    return joined(bytes.subarray(0, from), bytes.subarray(to))
  },
  'a piece twice': (bytes, random) => {
    const [from, to] = piece(random, bytes)
    return joined(bytes.subarray(0, to), bytes.subarray(from))
  },
  'the end cut off': (bytes, random) => bytes.subarray(0, whole(random, bytes.length)),
  'the end cut off and an end put back': (bytes, random, format) =>
    endedAnew(bytes, 1 + whole(random, bytes.length - 1), format),
}

/** Cut, and closed again the way the format ends. */
function endedAnew(bytes: Bytes, at: number, format: string): Bytes {
  const kept = bytes.subarray(0, at)
  if (format === 'jpeg') return joined(kept, Uint8Array.of(0xff, 0xd9))
  if (format === 'png') return joined(kept, bytes.subarray(bytes.length - 12))
  if (format !== 'webp' || at < 8) return joined(kept, new Uint8Array(bytes.length - at))
  const out = Buffer.from(kept)
  out.writeUInt32LE(at - 8, 4)
  return new Uint8Array(out)
}

const NASTY = [
  '.inf',
  '1e999',
  '-1',
  '__proto__',
  'toString',
  'null',
  '[]',
  '{}',
  '"',
  '\u202e\u0007',
  '&a',
  '*a',
  '<<: *a',
  '!!binary x',
  '9'.repeat(400),
  '- '.repeat(500),
  '['.repeat(3000),
  'a: '.repeat(300),
  '0x10',
  'yes',
  '2026-02-30',
]

function badText(text: Bytes, random: Random): Bytes {
  const words = Buffer.from(text)
    .toString('utf8')
    .split(/(\s+|[:,[\]{}])/)
  words[whole(random, words.length)] = NASTY[whole(random, NASTY.length)]!
  return new Uint8Array(Buffer.from(words.join('')))
}

const home = await mkdtemp(join(tmpdir(), 'proofwalk-mutants-'))
const FAINT = { rise: 6, noise: 6 }
const WIDTH = 320
const HEIGHT = 240
const CORNERS = [
  [100.3, 80.2],
  [220.3, 80.2],
  [220.3, 160.2],
  [100.3, 160.2],
] as const

/** A light board on a dark ground with some noise: strong, or so faint that k is under what a reader needs. */
async function boardStill({ rise, noise } = { rise: 130, noise: 1.5 }): Promise<Sharp> {
  const random = seededRandom(5)
  const pixels = Buffer.alloc(WIDTH * HEIGHT * 3)
  const share = (low: number, high: number, at: number): number =>
    Math.max(0, Math.min(high, at + 1) - Math.max(low, at))
  for (let at = 0; at < WIDTH * HEIGHT; at++) {
    const light = share(100.3, 220.3, at % WIDTH) * share(80.2, 160.2, Math.floor(at / WIDTH))
    pixels.fill(Math.round(60 + rise * light + noise * random.normal()), 3 * at, 3 * at + 3)
  }
  const picture = sharp(pixels, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } }).blur(0.7)
  return sharp(await picture.png().toBuffer())
}

async function originals(): Promise<Record<string, Bytes>> {
  const still = await boardStill()
  const faint = await boardStill(FAINT)
  return {
    jpeg: await still.clone().jpeg({ quality: 92 }).toBuffer(),
    'jpeg-progressive': await still.clone().jpeg({ quality: 92, progressive: true }).toBuffer(),
    png: await still.clone().png().toBuffer(),
    webp: await still.clone().webp({ quality: 92 }).toBuffer(),
    'webp-lossless': await still.clone().webp({ lossless: true }).toBuffer(),
    tiff: await still.clone().tiff({ compression: 'none' }).toBuffer(),
    'tiff-deflate': await still.clone().tiff({ compression: 'deflate' }).toBuffer(),
    'jpeg-faint': await faint.clone().jpeg({ quality: 92 }).toBuffer(),
    'tiff-faint': await faint.clone().tiff({ compression: 'none' }).toBuffer(),
    'tiff-deflate-faint': await faint.clone().tiff({ compression: 'deflate' }).toBuffer(),
    'webp-faint': await faint.clone().webp({ quality: 92 }).toBuffer(),
    avif: await still.clone().avif({ quality: 80, effort: 2 }).toBuffer(),
  }
}

async function measured(bytes: Bytes): Promise<StillTaskResult> {
  const path = join(home, 'still')
  await writeFile(path, bytes)
  const board = {
    name: 'board',
    kind: 'rectangle',
    marking: 'plain',
    widthM: 0.6,
    heightM: 0.4,
    widthToleranceM: 0.001,
    heightToleranceM: 0.001,
  }
  return runStillTask({
    path,
    file: 'still',
    subject: {
      kind: 'picked',
      reference: board as never,
      pick: { kind: 'corners', method: 'hand', sigmaPx: 0.5, corners: CORNERS as never },
      pickedSha256: null,
    },
    distanceM: 6,
    lens: null,
    elements: [{ gradeId: 'fine', elementM: 0.016 }],
    fullDetailAt: 0.4,
    promisedSize: null,
  })
}

/** Which figure differs by more than both uncertainties; null where none does. */
function figureOff(one: StillMeasurement, truth: StillMeasurement): string | null {
  const apart = (a: number, aU: number, b: number, bU: number): boolean =>
    !(Math.abs(a - b) <= Math.hypot(aU, bU))
  const half = ({ low, high }: { low: number; high: number }): number => (high - low) / 2
  if (apart(one.density.onTarget, half(one.density), truth.density.onTarget, half(truth.density)))
    return 'density'
  const [s, t] = [one.sharpness, truth.sharpness]
  if (s !== null && t !== null && apart(s.factor, s.factorU, t.factor, t.factorU)) return 'detail'
  const [a, b] = [one.tone?.roseK['fine'] ?? null, truth.tone?.roseK['fine'] ?? null]
  return a !== null && b !== null && apart(a.k, a.U, b.k, b.U) ? 'k' : null
}

const HIGHER = 'k, higher'

/** Where noise is under one code value k is said to be an upper bound, of the original too. */
function kindOfK(one: StillMeasurement, truth: StillMeasurement): string {
  const isBound = one.problems.some(({ code }) => code === 'k-upper-bound')
  return isBound ? 'k, said to be an upper bound' : k(one)! > k(truth)! ? HIGHER : 'k, lower'
}

const k = ({ tone }: StillMeasurement): number | undefined => tone?.roseK['fine']?.k

/** By Rose's criterion, as the gradings ask for it. */
function standsOut({ tone }: StillMeasurement): boolean {
  const told = tone?.roseK['fine'] ?? null
  return told !== null && told.k - told.U >= DEFAULT_LEAST_ROSE_K
}

const WALK = await readFile('fixtures/walks/one-angle-board/walk.yaml')
const TEXTS: Readonly<Record<string, { readonly bytes: Bytes; read(text: Bytes): Promise<unknown> }>> = {
  'walk.yaml': {
    bytes: WALK,
    read: async (bytes) =>
      parseWalk(textOf(bytes, 'walk.yaml'), { file: 'walk.yaml', dir: home, sha256: '' }),
  },
  'picks.json': {
    bytes: await readFile('fixtures/walks/one-angle-board/picks.json'),
    read: async (bytes) => Promise.resolve(parsePicks(textOf(bytes, 'picks.json'), 'picks.json')),
  },
  'cameras.csv': {
    bytes: Buffer.from(
      'folder;name;id;serial;image;fieldOfView;mountHeight;notes\r\ngate;Gate;C1;007;2560 x 1440;100 x 52;3,2 m;"a ""b"""\r\nyard;Yard;C2;12e3;1920x1080;90;9 ft;\r\n',
    ),
    read: async (bytes) =>
      listedWalks(textOf(bytes, 'cameras.csv'), {
        walkText: WALK.toString('utf8'),
        file: 'cameras.csv',
        promisedBy: promisedBy('iec-62676-4-2014', 'metric'),
        carried: [],
        findGrading: namedGrading,
      }),
  },
  'grading.json': {
    bytes: Buffer.from(
      JSON.stringify({ ...namedGrading('iec-62676-4-2014').grading, id: 'own', name: 'Own' }, null, 2),
    ),
    read: async (bytes) => {
      await writeFile(join(home, 'grading.json'), bytes)
      return readGrading(home, 'grading.json')
    },
  },
}

interface Count {
  cases: number
  refused: number
  same: number
  told: number
  silent: number
}

const counts = new Map<string, Count>()
const failures: string[] = []
const silentBy = new Map<string, number>()
let slowestMs = 0
let mostMb = 0

async function timed<Value>(what: string, run: () => Promise<Value>): Promise<Value | null> {
  const from = performance.now()
  try {
    return await run()
  } catch (error) {
    failures.push(`${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`)
    return null
  } finally {
    const tookMs = performance.now() - from
    slowestMs = Math.max(slowestMs, tookMs)
    mostMb = Math.max(mostMb, process.memoryUsage().rss / 1e6)
    if (tookMs > MOST_MS) failures.push(`${what}: took ${Math.round(tookMs)} ms`)
  }
}

try {
  const stills = await originals()
  const truths: Record<string, StillMeasurement> = {}
  for (const [format, bytes] of Object.entries(stills)) {
    const result = await measured(bytes)
    if (!result.ok) throw new Error(`${format}: ${result.message}`)
    truths[format] = result.measurement
  }
  const kinds = [...Object.keys(stills), ...Object.keys(TEXTS)]
  const damages = Object.keys(DAMAGES)
  for (let index = 0; index < CASES; index++) {
    const random = seededRandom(1000 + index)
    const kind = kinds[index % kinds.length]!
    const text = TEXTS[kind]
    const isWord = text !== undefined && random.uniform() < 0.6
    const damage = isWord ? 'a word exchanged' : damages[whole(random, damages.length)]!
    const format = kind.split('-')[0]!
    const original = text?.bytes ?? stills[kind]!
    const bytes = isWord ? badText(original, random) : DAMAGES[damage]!(original, random, format)
    const cell = `${kind}: ${damage}`
    const count = counts.get(cell) ?? { cases: 0, refused: 0, same: 0, told: 0, silent: 0 }
    counts.set(cell, count)
    count.cases += 1
    const what = `case ${index}, ${cell}`
    if (text !== undefined) {
      const outcome = await timed(what, () => text.read(bytes).then((): 'same' => 'same', refusal))
      if (outcome !== null) count[outcome] += 1
      continue
    }
    const result = await timed(what, () => measured(bytes))
    if (result === null) continue
    if (!result.ok) {
      count.refused += 1
      continue
    }
    const truth = truths[kind]!
    const said = result.measurement.problems.some(
      ({ code }) => !truth.problems.some((one) => one.code === code),
    )
    const off = figureOff(result.measurement, truth)
    count[off === null ? 'same' : said ? 'told' : 'silent'] += 1
    if (off !== null && !said) {
      const figure = off === 'k' ? kindOfK(result.measurement, truth) : off
      silentBy.set(figure, (silentBy.get(figure) ?? 0) + 1)
      if (figure === HIGHER) failures.push(`${what}: k is higher without a word`)
    }
    if (!said && standsOut(result.measurement) && !standsOut(truth))
      failures.push(`${what}: a contrast that a reader lacks stands out without a word`)
    if (off !== null && !said && KNOWN_SILENT[kind]?.includes(damage) !== true)
      failures.push(`${what}: ${off} is off without a word`)
  }
} finally {
  await rm(home, { recursive: true, force: true })
}

function refusal(error: unknown): 'refused' {
  if (error instanceof ProofwalkError && error.exitStatus === 2) return 'refused'
  throw error
}

if (mostMb > MOST_MB) failures.push(`took ${Math.round(mostMb)} MB`)
console.log(`${CASES} damaged files, slowest ${Math.round(slowestMs)} ms, at most ${Math.round(mostMb)} MB:`)
console.log(`  ${'cases'.padStart(6)} refused  same  told  silent`)
for (const [cell, { cases, refused, same, told, silent }] of [...counts].sort())
  console.log(
    `  ${[cases, refused, same, told, silent].map((one) => String(one).padStart(6)).join(' ')}  ${cell}${silent > 0 ? ' (known)' : ''}`,
  )
console.log(`silent by figure: ${[...silentBy].map(([figure, count]) => `${count} ${figure}`).join('; ')}`)
console.log(
  failures.length === 0
    ? 'no crash, no hang, nothing silent but what is known'
    : `FAILED ${failures.length}:`,
)
for (const failure of failures.slice(0, 40)) console.log(`  ${failure}`)
if (failures.length > 0) process.exitCode = 1
