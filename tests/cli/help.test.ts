import { readdirSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { CATALOGUES } from '../../src/cli/help/catalogues.js'
import { codeText, type ExplainedCode, explainedCodes } from '../../src/cli/help/codeTable.js'
import { HELP_TOPICS } from '../../src/cli/help/helpTopics.js'
import { topicText } from '../../src/cli/help/topicText.js'
import { runCommand } from './recordingTerminal.js'

const TEXTS = readdirSync(new URL('../../src/cli/help/texts/', import.meta.url)).map((file) =>
  file.replace(/\.txt$/, ''),
)

/** Every code that results or a comparison can carry of a still, of a walk and of two walks, by the room that says it. */
const CODES_OF_RESULTS: Readonly<Record<string, string>> = {
  still: `still-first-of-several still-not-opaque still-converted still-palette still-empty still-cut-short still-not-a-picture still-wrong-format
    still-is-heic still-is-video still-too-large still-damaged still-unreadable still-link still-not-a-file still-missing`,
  lens: `still-against-image angles-not-rectilinear angles-fit-no-lens angles-against-focal-length angle-impossible sensor-against-pixel-pitch
    sensor-against-image angles-exchanged picture-turned diagonal-for-horizontal pitch-of-another-mode may-be-diagonal digits-leave one-angle no-angle
    equal-angles inch-type-spread`,
  measure: `height-decides corners-begin-elsewhere pose-unknown detail-too-small detail-no-contrast detail-no-quiet-ground detail-clipped detail-halo
    detail-no-fit no-surface sharpened moving lifted sharpness-ways-differ chart-uneven-light chart-washed-out chart-ink-clipped chart-sharpened
    chart-too-noisy chart-bent chart-part-covered no-two-levels clipped-bright part-rough few-even-squares tone-too-small k-upper-bound repeated-pixels
    strip-not-seen strip-too-small strip-part-covered strip-clipped fine-detail-taken contrast-altered
    enlarged coarse-levels interlaced pick-not-of-reference corners-crossed corners-collinear corners-coincident corners-not-convex
    corners-outside corners-not-finite ends-not-finite ends-outside ends-coincident`,
  grade: `washed-out too-noisy tape-begins-elsewhere zoomed-between-lights moved-between-lights size-disagrees scaled-from-mark
    pixels-not-square corners-rougher mark-left-out marks-disagree marks-scatter infrared-focus walking-blur moved-or-zoomed reference-or-hand points-elsewhere focus-or-dirt sharper one-light
    less-contrast one-mark other-camera other-still-size other-method other-distances no-shared-mark other-grading other-reference
    mark-not-shared`,
  walk: `reference-disagrees name-disagrees no-pick pick-stale pick-without-still chart-none chart-two chart-mirrored chart-covered
    chart-other-paper chart-which chart-bent chart-too-blurred chart-no-fit reference-unknown reference-untold lens-against-sheet
    export-sizes-differ detail-under-size begins-added border-seen begins-too-far chart-untaped chart-scaled`,
}

const CODES_TO_FIND = Object.values(CODES_OF_RESULTS).flatMap((codes) => codes.split(/\s+/))

test('every room that has sentences is among the catalogues', () => {
  const files = readdirSync(new URL('../../src/', import.meta.url), { recursive: true }).map(String)
  const rooms = files.flatMap((file) => /^(.+)\/sentences\.ts$/.exec(file)?.[1] ?? [])
  expect(rooms.length).toBeGreaterThan(1)
  expect(Object.keys(CATALOGUES).sort()).toEqual(rooms.sort())
})

test.each(CODES_TO_FIND)('help %s says what the code means', async (code) => {
  const { out, err, status } = await runCommand('help', code)
  expect([status, err]).toEqual([0, ''])
  expect(out).toMatch(new RegExp(`(^  |: |, )${code}( |,|\\.$)`, 'm'))
  const { codes } = JSON.parse((await runCommand('help', code, '--json')).out) as { codes: ExplainedCode[] }
  expect(new Set(codes.map((one) => one.code))).toEqual(new Set([code]))
})

test.each(['Files', 'Chart-None', 'MEASURE'])('help %s is found however it is capitalised', async (name) => {
  const { out, status } = await runCommand('help', name)
  expect([out, status]).toEqual([(await runCommand('help', name.toLowerCase())).out, 0])
})

describe('a topic', () => {
  test.each(Object.keys(HELP_TOPICS))('%s says something', async (topic) => {
    const rows = explainedCodes().filter((code) => code.topic === topic)
    const { out, err, status } = await runCommand('help', topic)
    expect([status, err]).toEqual([0, ''])
    expect(out).toMatch(rows.length > 0 ? /^Codes: /m : /^\S/)
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100)
    for (const { code } of rows) expect(out).toContain(code)
  })

  test('that is a command too prints the help of both', async () => {
    const { out } = await runCommand('help', 'compare')
    expect(out).toMatch(/^Usage: proofwalk compare .*\n\nA year later\n.*Codes: two walks of one camera\n/s)
  })

  test('of all codes prints every one, and --json one document of them', async () => {
    const { out } = await runCommand('help', 'messages')
    for (const { code } of explainedCodes()) expect(out).toContain(code)
    const { codes } = JSON.parse((await runCommand('help', 'codes', '--json')).out) as { codes: unknown[] }
    expect(codes).toEqual(explainedCodes())
    expect(codes.length).toBeGreaterThan(50)
  })

  test('of every text is listed, and no text is left lying', () => {
    expect(TEXTS.length).toBeGreaterThan(8)
    for (const topic of TEXTS) expect(Object.keys(HELP_TOPICS)).toContain(topic)
  })

  test('is wrapped with its bullets hung, commands as they stand', () => {
    const text = topicText('stills', 60)!
    expect(text).toMatch(/\n- Pause the recording.{1,48}\n {2}\S/)
    expect(text).toContain('\n    ffmpeg -i clip.mp4 -ss 12.5 -frames:v 1 16m.png\n')
    expect(topicText('nowhere', 60)).toBeNull()
  })
})

test('a code told for two reasons stands once, with both; one that can only be said of a case is named beneath', () => {
  const row = (code: string, means: string | null, mend: string | null): ExplainedCode => ({
    ...{ code, means, mend },
    topic: 'chart',
  })
  const codes = [
    row('a-code', 'it is bent', 'flatten it'),
    row('a-code', 'it is torn', null),
    row('bare', null, null),
  ]
  expect(codeText(codes, 80)).toBe(
    'Codes: the printed chart\n\n  a-code  it is bent; flatten it\n          it is torn\n\n' +
      '  Said only of a case: bare.\n',
  )
})

test('a sentence with facts is told with its facts left open', () => {
  const row = explainedCodes().find(({ code }) => code === 'other-method')
  expect(row?.means).toBe('measured by method ... before and ... after')
  for (const { means, mend } of explainedCodes())
    expect(`${means} ${mend}`).not.toMatch(/NaN|undefined|\[object/)
})

test('without a word the commands and the topics are listed; of a command its own help is printed', async () => {
  const { out, status } = await runCommand('help')
  expect(status).toBe(0)
  expect(out).toContain('Commands:')
  for (const topic of Object.keys(HELP_TOPICS)) expect(out).toMatch(new RegExp(`\\b${topic}\\b`))
  expect((await runCommand('help', 'measure')).out).toBe((await runCommand('measure', '--help')).out)
  expect((await runCommand('help', 'list', 'gradings')).out).toBe(
    (await runCommand('list', 'gradings', '--help')).out,
  )
})

test.each([
  [['help', 'metod'], 'there is no help on "metod"; did you mean method?'],
  [['help', 'mesure'], 'there is no help on "mesure"; did you mean measure?'],
  [['help', 'moved-or-zomed'], 'there is no help on "moved-or-zomed"; did you mean moved-or-zoomed?'],
  [['help', 'xyzzyplugh'], 'there is no help on "xyzzyplugh"; "proofwalk help" lists commands and topics'],
  [['help', 'list', 'cars'], 'there is no help on "list cars"; did you mean list?'],
  [
    ['help', 'method', '--json'],
    'there are no codes under "method"; leave --json out, or name a topic with codes',
  ],
])('%j is refused with 2', async (words, says) => {
  expect(await runCommand(...words)).toEqual({ out: '', err: `proofwalk: ${says}\n`, status: 2 })
})
