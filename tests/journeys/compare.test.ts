import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { runCommand } from '../cli/recordingTerminal.js'
import { hasPoppler, poppler } from '../sheet/poppler.js'
import { type CameraChange, writeChangedWalk } from '../simulate/changedWalk.js'

/** What happened to the camera, and the finding that must come of it and no other. */
const CHANGES: readonly (readonly [name: string, change: CameraChange, codes: readonly string[]])[] = [
  ['nothing', {}, []],
  ['a knock', { lowerDeg: 4 }, ['points-elsewhere']],
  ['a focus that drifted', { blur: 1.4 }, ['focus-or-dirt']],
  ['a lost lamp', { infrared: 0.03 }, ['one-light']],
]

let home: string
let before: string
beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), 'proofwalk-compare-'))
  before = join(home, 'before')
  await writeChangedWalk(before, 1)
}, 60_000)
afterAll(() => rm(home, { recursive: true, force: true }))

interface Comparison {
  readonly marks: readonly {
    readonly light: string
    readonly distance: number
    readonly density: Record<string, number | boolean>
    readonly detail: Record<string, number | boolean> | null
  }[]
  readonly findings: readonly { readonly code: string; readonly message: string }[]
  readonly promises: readonly { readonly before: string | null; readonly after: string | null }[]
}

describe('the demonstration before and after', () => {
  test.each(CHANGES)(
    '%s is told as such',
    async (name, change, codes) => {
      const after = join(home, name.replaceAll(' ', '-'))
      await writeChangedWalk(after, 2 + CHANGES.findIndex(([one]) => one === name), change)
      const run = await runCommand('compare', before, after, '--json')
      const { marks, findings } = JSON.parse(run.out) as Comparison
      expect(findings.map(({ code }) => code)).toEqual(codes)
      expect(run.status).toBe(codes.length === 0 ? 0 : 1)
      expect(marks.map(({ light, distance }) => [light, distance])).toEqual(
        ['day', 'infrared'].flatMap((light) => [3, 4.5, 6].map((distance) => [light, distance])),
      )
      for (const { density } of marks) expect(density['significant']).toBe(false)
      const loss = marks.filter(({ detail }) => detail?.['significant'] === true)
      if (change.blur !== undefined) expect(loss.length).toBeGreaterThanOrEqual(4)
      else expect(loss).toEqual([])
    },
    90_000,
  )

  test('the JSON carries every key of the contract and no other', async () => {
    const { out } = await runCommand('compare', before, join(home, 'nothing'), '--json')
    const told = JSON.parse(out) as Comparison
    expect(Object.keys(told)).toEqual(['marks', 'findings', 'promises'])
    const figure = ['before', 'after', 'change', 'low', 'high', 'significant']
    expect(Object.keys(told.marks[0]!)).toEqual(['light', 'reference', 'distance', 'density', 'detail'])
    expect(Object.keys(told.marks[0]!.density)).toEqual(figure)
    expect(Object.keys(told.marks[0]!.detail!)).toEqual(figure)
    expect(Object.keys(told.promises[0]!)).toEqual([
      'grade',
      'distance',
      'light',
      'reference',
      'kind',
      'limit',
      'before',
      'after',
    ])
  })

  test('the tables say first what it means, and end with what to do next', async () => {
    const run = await runCommand('compare', before, join(home, 'a-focus-that-drifted'))
    expect(run.err).toBe('')
    const lines = run.out.split('\n')
    expect(lines[0]).toBe('before  2026-03-14  North slipway, Slipway camera  SIMULATED')
    expect(lines[3]).toMatch(
      /^The camera has changed; 2 of 2 promises come to another verdict, 2 for the worse\.$/,
    )
    expect(lines[4]).toMatch(
      /the same density, less detail: .* Check the focus, and dirt .*\(focus-or-dirt\)$/,
    )
    expect(lines.at(-2)).toMatch(/^Next: /)
  })

  test.skipIf(!hasPoppler())(
    'the PDF says the same, the same bytes every time (skipped only without poppler)',
    async () => {
      const [one, two] = [join(home, 'one.pdf'), join(home, 'two.pdf')]
      for (const file of [one, two])
        await runCommand('compare', before, join(home, 'a-focus-that-drifted'), '--pdf', file)
      const bytes = await readFile(one)
      expect(bytes.equals(await readFile(two))).toBe(true)
      const text = poppler('pdftotext', ['-layout', 'FILE', '-'], bytes).replace(/\s+/g, ' ')
      for (const words of [
        'SIMULATED',
        'The camera has changed',
        'less detail',
        'met not shown another verdict',
        'What this does not say',
      ])
        expect(text).toContain(words)
      expect(poppler('pdfinfo', ['FILE'], bytes)).toMatch(/^Tagged: +yes$/m)
    },
  )
})

describe('with the yard behind', () => {
  const size = { divideBy: 3, marksM: [4.5, 6], yard: true }
  const [stood, knocked] = ['stood', 'knocked'].map((name) => () => join(home, 'yard', name)) as [Path, Path]
  type Path = () => string
  beforeAll(async () => {
    await writeChangedWalk(join(home, 'yard', 'before'), 1, {}, size)
    await writeChangedWalk(stood(), 2, {}, size)
    await writeChangedWalk(knocked(), 3, { rightDeg: -0.4, lowerDeg: 0.1 }, size)
  }, 180_000)

  test('a camera that stood still is said to have', async () => {
    const run = await runCommand('compare', join(home, 'yard', 'before'), stood())
    expect(run.status).toBe(0)
    expect(run.out).toMatch(
      /Seen (by day|under infrared), the scene lies where it lay, within 0\.0\d+ degrees, and is as large, within 0\.\d+ %/,
    )
  }, 60_000)

  test('a knock is told by its angle, sideways too', async () => {
    const run = await runCommand('compare', join(home, 'yard', 'before'), knocked(), '--json')
    const { findings } = JSON.parse(run.out) as Comparison
    expect(findings.map(({ code }) => code)).toEqual(['points-elsewhere'])
    const told = /looks ([\d.]+) degrees to the left and ([\d.]+) down \(within ([\d.]+)\)/.exec(
      findings[0]!.message,
    )!
    const [left, down, within] = told.slice(1).map(Number) as [number, number, number]
    expect(within).toBeLessThan(0.06)
    expect(Math.hypot(left - 0.4, down - 0.1)).toBeLessThan(within)
    expect(run.status).toBe(1)
  }, 60_000)

  test.skipIf(!hasPoppler())(
    'the PDF shows both pictures, and both about a seam (skipped only without poppler)',
    async () => {
      const file = join(home, 'yard', 'compared.pdf')
      await runCommand('compare', join(home, 'yard', 'before'), knocked(), '--pdf', file)
      const bytes = await readFile(file)
      const pictures = poppler('pdfimages', ['-list', 'FILE'], bytes).match(/ jpeg /g)
      expect(pictures).toHaveLength(4)
      const text = poppler('pdftotext', ['-layout', 'FILE', '-'], bytes).replace(/\s+/g, ' ')
      expect(text).toContain('before, 2026-03-14, the 6 m mark, SIMULATED')
      expect(text).toContain('Left of the seam before, right of it after')
    },
    60_000,
  )
})

describe('walks that do not compare', () => {
  const changed = async (name: string, from: string, to: string): Promise<string> => {
    const dir = join(home, name)
    await cp(join(home, 'nothing'), dir, { recursive: true })
    const text = await readFile(join(dir, 'walk.yaml'), 'utf8')
    expect(text).toContain(from)
    await writeFile(join(dir, 'walk.yaml'), text.replace(from, to))
    return dir
  }

  test('another camera is told, nothing is compared, and the exit is 1', async () => {
    const run = await runCommand('compare', before, await changed('other', 'id: C-07', 'id: C-08'), '--json')
    const { marks, findings } = JSON.parse(run.out) as Comparison
    expect([run.status, marks, findings.map(({ code }) => code)]).toEqual([1, [], ['other-camera']])
  }, 60_000)

  test('the same folder twice is refused, and so is a PDF over a file that is none', async () => {
    const twice = await runCommand('compare', before, `${before}/.`)
    expect([twice.status, twice.out]).toEqual([2, ''])
    expect(twice.err).toMatch(/is named twice; name the folder of the later walk second/)
    const over = await runCommand(
      'compare',
      before,
      join(home, 'nothing'),
      '--pdf',
      join(before, 'walk.yaml'),
    )
    expect([over.status, over.out]).toEqual([2, ''])
  })
})
