import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { beforeAll, describe, expect, test } from 'vitest'
import { runCommand } from '../cli/recordingTerminal.js'
import { hasPoppler, poppler } from '../sheet/poppler.js'
import { boardCorners, boardStill, put, putPicks } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

const FEET_YAML = `site: Net loft
camera:
  name: Loft camera
  image: { width: 1280, height: 720 }
  fieldOfView: { horizontal: 56, vertical: 33.4 }
  mountHeight: 8' 6 1/2"
  tilt: 12
units: imperial
references:
  board: { width: 23.62 in, height: 15.75 in, tolerance: 1/16 in, carriedAt: 3' 6" }
  staff: { length: 6 feet, tolerance: 1/16 in }
distance: { begins: 2 in, tolerance: 4 in }
marks: [13 ft, 20 feet, 29' 6 1/2"]
lights: [day, infrared]
promises:
  - { task: know who comes in, grade: recognise, at: 29' 6", light: day, reference: board }
  - { grade: identify, at: 20', light: day }
  - { grade: observe, at: 40 ft, light: infrared }
  - { atMost: detect, at: 60 ft, light: day, what: the neighbour's window }
observations:
  - { mark: 20 ft, light: infrared, triggered: true }
  - { mark: 30 ft, light: infrared, triggered: false }
`

const MARKS_M = [3.9624, 6.096, 9.0043] as const
const NAMES = ['13ft.jpg', '20 feet.jpg', '29 ft 6.5 in.jpg'] as const

/** The walk in feet with its stills; `shrunk` is how much smaller its board is seen. */
async function makeWalk(dir: string, seed: number, shrunk: number): Promise<void> {
  await put(dir, 'walk.yaml', FEET_YAML)
  const files = NAMES.map((name) => `stills/day/${name}`)
  const seenM = MARKS_M.map((distanceM) => distanceM * shrunk)
  for (const [index, file] of files.entries())
    await put(dir, file, await boardStill(seenM[index]!, 'jpeg', seed + index))
  await putPicks(
    dir,
    files.map((file, index) => ({ file, corners: boardCorners(seenM[index]!) })),
  )
}

// A figure in feet or inches beside one in metres stands right before it, or right behind it in brackets.
const IMPERIAL_BEFORE = /\d\s?(?:in|ft|px\/ft)[,;]? \(?(?:[\d.]+ [x×] )?$/
const IMPERIAL_BEHIND = /^(?: wide)? (?:or |\()(?:[\d.]+ x )?[\d.]+ (?:px\/ft|ft|in)\b|^, [\d.]+ px\/ft\)/
/** Focal lengths, sensors and pixels are in millimetres on every data sheet, wherever it is read. */
const OPTICS = /(?:focalLength|sensor|pixelPitch|lens|"[\d.]+ x )[^\n]{0,24}$/
const OPTICS_BEHIND = /^ (?:lens|wide sees)/

/** Each figure of a text that stands there in metres alone. */
function inMetresAlone(text: string): string[] {
  const plain = text
    .replace(/[^\s,]*\.(?:jpg|pdf|yaml|png)\b/g, 'FILE')
    .replace(/\u00a0/g, ' ')
    .replace(/-?\n(?! *\n)/g, ' ')
    .replace(/ +/g, ' ')
  const figures = [...plain.matchAll(/(?<![\w.-])\d[\d.]*\s?(?:px\/m|cycles\/m|mm|cm|m|um)(?![\w\/-])/g)]
  return figures.flatMap((match) => {
    const before = plain.slice(Math.max(0, match.index - 40), match.index)
    const behind = plain.slice(match.index + match[0].length, match.index + match[0].length + 40)
    const isBeside = IMPERIAL_BEFORE.test(before) || IMPERIAL_BEHIND.test(behind)
    const isOptics = OPTICS.test(before) || OPTICS_BEHIND.test(behind)
    return isBeside || isOptics ? [] : [`${before}>>${match[0]}<<${behind}`]
  })
}

/** Each column or sentence that has px/m, or mm, for its unit, and no column in feet or inches beside it. */
function headsInMetres(text: string): string[] {
  return text.split('\n').flatMap((line, index, lines) => {
    if (!/(?<!\d ?)\b(?:px\/m|mm)\b/.test(line.replace(/\d[\d.]* (?:px\/m|mm)/g, ''))) return []
    const near = lines.slice(Math.max(0, index - 2), index + 4).join(' ')
    return /px\/ft|\bin\b/.test(near) ? [] : [line]
  })
}

function expectFeet(text: string): void {
  expect(text.length).toBeGreaterThan(80)
  expect([...inMetresAlone(text), ...headsInMetres(text)]).toEqual([])
}

test('the search finds what stands in metres alone, and nothing else', () => {
  for (const alone of [
    'a mark at 16 m is left out',
    'limit 125 px/m',
    '41.1 to 43.2 px/ft with detail, 125 px/m needed',
    'board 600 × 400 mm (within 1 mm)',
    'head\nlimit, px/m\n125\n62\n25\n12',
  ])
    expect([...inMetresAlone(alone), ...headsInMetres(alone)], alone).not.toEqual([])
  for (const beside of [
    '125 px/m (38.1 px/ft) needed',
    'board 23.62 × 15.75 in, 600 × 400 mm (within 0.04 in, 1 mm)',
    'check it at 2 m (6 ft)',
    'stills/day/16m.jpg and 16m.jpg',
    'a 4 mm lens on a sensor 5.12 to 5.6 mm wide',
    '"5 m" in 5 minutes'.replace('5 m"', '5 ft"'),
    'mark  px/ft  px/m',
  ])
    expect([...inMetresAlone(beside), ...headsInMetres(beside)], beside).toEqual([])
})

describe('no figure of a walk in feet stands there in metres alone', () => {
  const [one, two] = ['loft', 'loft later']
  beforeAll(async () => {
    await makeWalk(home.path(one), 1, 1)
    await makeWalk(home.path(two), 40, 1.08)
  })

  test('new: what it says, and what it writes', async () => {
    const dir = home.path('made')
    const promises = [
      'read a plate at 15 feet in day',
      "know a face at 20' in day",
      'notice movement at 50ft in day',
    ]
    const made = await runCommand(
      ...['new', dir, '--feet', '--carry', 'plate-na', '--carry', '24x16in', '--carry', 'chart Tabloid'],
      ...promises.flatMap((promise) => ['--promise', promise]),
    )
    expect(made.err).toBe('')
    expectFeet(made.out)
    expectFeet(await readFile(join(dir, 'walk.yaml'), 'utf8'))
  })

  test.skipIf(!hasPoppler())('plan and chart, on paper too (skipped only without poppler)', async () => {
    for (const paper of ['A4', 'Letter']) {
      const pdf = home.path(`plan-${paper}.pdf`)
      const { out, err } = await runCommand('plan', home.path(one), '--pdf', pdf, '--paper', paper)
      expect(err).toBe('')
      expectFeet(out)
      expectFeet(poppler('pdftotext', ['-raw', 'FILE', '-'], await readFile(pdf)))
    }
    const chartText = async (...options: readonly string[]): Promise<string> => {
      const pdf = home.path('chart.pdf')
      await runCommand('chart', '--out', pdf, ...options)
      // The ruler says both in one line.
      return poppler('pdftotext', ['-raw', 'FILE', '-'], await readFile(pdf)).replace(
        /Above: \d+ mm between the long ticks\. Below: \d+ in\./g,
        '',
      )
    }
    expectFeet(await chartText('--paper', 'Tabloid'))
    expectFeet(await chartText('--strip', '--paper', 'Letter'))
    // A tile cuts the chart's own words off, its line above says what is to be done with it.
    const tiled = await chartText('--paper', 'A2', '--tile', 'Letter')
    expectFeet((tiled.replace(/\s+/g, ' ').match(/Cut along the marks.*?marks\)/g) ?? []).join(' '))
  })

  test('measure, one still, list and verify', async () => {
    for (const dir of [one, two]) {
      const measured = await runCommand('measure', home.path(dir))
      expect(measured.err).toBe('')
      expect(measured.out).toMatch(/px\/ft/)
      expectFeet(measured.out)
    }
    const still = home.path('alone.jpg')
    await put(home.path('.'), 'alone.jpg', await boardStill(6, 'jpeg', 7))
    const corners = boardCorners(6)
      .map((corner) => corner.join(','))
      .join(' ')
    for (const reference of [['24x16in'], ['600x400mm', '--feet']]) {
      const alone = await runCommand('measure', still, '--corners', corners, '--reference', ...reference)
      expect(alone.err).toBe('')
      expectFeet(alone.out)
    }
    expectFeet((await runCommand('list', 'gradings')).out)
    expectFeet((await runCommand('verify', home.path(one))).out)
  }, 120_000)

  test.skipIf(!hasPoppler())(
    'sheet, compare and summary, on paper too (skipped only without poppler)',
    async () => {
      for (const paper of ['A4', 'Letter']) {
        await runCommand('sheet', home.path(one), '--paper', paper)
        const sheet = await readFile(join(home.path(one), 'sheet.pdf'))
        expectFeet(poppler('pdftotext', ['-raw', 'FILE', '-'], sheet))
      }
      const [compared, summed] = [home.path('compared.pdf'), home.path('summed.pdf')]
      const comparison = await runCommand('compare', home.path(one), home.path(two), '--pdf', compared)
      expectFeet(comparison.out)
      expectFeet(poppler('pdftotext', ['-raw', 'FILE', '-'], await readFile(compared)))
      const summary = await runCommand('summary', home.path(one), home.path(two), '--pdf', summed)
      expectFeet(summary.out)
      expectFeet(poppler('pdftotext', ['-raw', 'FILE', '-'], await readFile(summed)))
    },
    120_000,
  )
})
