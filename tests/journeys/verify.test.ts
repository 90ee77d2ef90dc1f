import type { WalkResults } from '../../src/walk/schemas/resultsSchema.js'
import { appendFile, cp, readFile, rm, truncate, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { beforeAll, describe, expect, test } from 'vitest'
import { runCommand } from '../cli/recordingTerminal.js'
import { sealed } from '../../src/sheet/input/seal.js'
import { readSheetPdf } from '../../src/sheet/verify/readSheetPdf.js'
import { runThroughShell } from './runProofwalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()
let pattern: string
beforeAll(async () => {
  pattern = await home.freshWalk('verified')
  expect((await runCommand('sheet', pattern)).status).toBe(0)
}, 120_000)

async function copyOf(name: string): Promise<string> {
  const dir = home.path(name)
  await rm(dir, { recursive: true, force: true })
  await cp(pattern, dir, { recursive: true })
  return dir
}

/** Changes one byte of a file, in its middle or at a place. */
async function touch(file: string, place?: (bytes: Buffer) => number): Promise<void> {
  const bytes = await readFile(file)
  const at = place?.(bytes) ?? Math.floor(bytes.length / 2)
  bytes[at] = bytes[at]! ^ 1
  await writeFile(file, bytes)
}

interface Verified {
  readonly matches: boolean
  readonly checks: readonly {
    readonly what: string
    readonly matches: boolean | null
    readonly message: string
  }[]
}

async function verified(target: string): Promise<{ status: number; wrong: string[] }> {
  const { out, status } = await runCommand('verify', target, '--json')
  const { matches, checks } = JSON.parse(out) as Verified
  expect(matches).toBe(status === 0)
  return {
    status,
    wrong: [...new Set(checks.filter((check) => check.matches === false).map(({ what }) => what))],
  }
}

describe('a walk as it was measured', () => {
  test('belongs together, as a folder and as its sheet alone, and says what that does not show', async () => {
    const folder = await runCommand('verify', pattern)
    expect([folder.status, folder.err]).toEqual([0, ''])
    expect(folder.out).toContain('everything belongs together')
    expect(folder.out).toContain('3 stills, as measured')
    expect(folder.out.trimEnd().split('\n').at(-1)).toBe(
      `Next: walk again in a year, then proofwalk compare ${pattern} with that walk`,
    )
    expect(folder.out).toMatch(
      /What this does not show\n {2}who made these files.*\n {2}that a still left the camera/,
    )
    const sheet = await runCommand('verify', join(pattern, 'sheet.pdf'))
    expect([sheet.status, sheet.err]).toEqual([0, ''])
    expect(sheet.out).toMatch(/what is printed: \d\d printed figures agree with the attached results/)
  })

  test('without a sheet nothing holds results.json down, which is said', async () => {
    const dir = await copyOf('no-sheet')
    await rm(join(dir, 'sheet.pdf'))
    const { out, status } = await runCommand('verify', dir)
    expect([status, out]).toEqual([0, expect.stringContaining('no sheet.pdf vouches for it')])
    expect(out.trimEnd().split('\n').at(-1)).toBe(`Next: proofwalk sheet ${dir}`)
  })
})

describe('one byte changed', () => {
  test.each([
    ['stills/day/6m.jpg', ['stills/day/6m.jpg']],
    ['walk.yaml', ['walk.yaml']],
    ['picks.json', ['picks.json']],
    ['results.json', ['results.json']],
  ])('in %s is named', async (file, wrong) => {
    const dir = await copyOf('touched')
    const inText = (bytes: Buffer): number =>
      file === 'results.json' ? bytes.indexOf('"onTarget": 1') + 13 : bytes.length - 3
    await touch(join(dir, file), file.endsWith('.jpg') ? undefined : inText)
    const found = await verified(dir)
    expect(found.status).toBe(1)
    expect(found.wrong).toEqual(expect.arrayContaining(wrong))
    expect(found.wrong.every((what) => wrong.includes(what))).toBe(true)
  })

  test('in a picture of the sheet, in its page, in an attachment or in its hash shows by its own hash', async () => {
    const file = join(pattern, 'sheet.pdf')
    const bytes = await readFile(file)
    const places = [
      bytes.indexOf('/Subtype /Image') + 400,
      bytes.indexOf('/EmbeddedFile') + 300,
      bytes.indexOf('<proofwalk:sha256>') + 30,
      bytes.length - 4,
      12,
    ]
    for (const at of places) {
      const copy = home.path('touched.pdf')
      await writeFile(copy, bytes)
      await touch(copy, () => at)
      const { status, wrong } = await verified(copy)
      expect([at, status, wrong[0]]).toEqual([at, 1, copy])
    }
  })

  test('a still that came, one that went, and a pick that went are named', async () => {
    const dir = await copyOf('moved')
    await cp(join(dir, 'stills/day/6m.jpg'), join(dir, 'stills/day/5m.jpg'))
    await rm(join(dir, 'stills/day/9m.jpg'))
    expect((await verified(dir)).wrong.sort()).toEqual(['stills/day/5m.jpg', 'stills/day/9m.jpg'])
  })

  test('a sheet of other results is told by what it carries', async () => {
    const dir = await copyOf('other-sheet')
    const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
    await writeFile(join(dir, 'walk.yaml'), yaml.replace('Net loft', 'Sail loft'))
    await runCommand('measure', dir)
    expect((await verified(dir)).wrong.sort()).toEqual(['results.json', 'walk.yaml'])
  })
})

/** A forger's sheet under a name: pages of `results` around an attached text of results, the hash written anew over the whole. */
async function forgedSheet(name: string, results: WalkResults, attached: string): Promise<string> {
  const { writeSheet } = await import('../../src/sheet/acceptance/writeSheet.js')
  const bytes = await writeSheet({
    results,
    crops: [],
    attachments: {
      results: Buffer.from(attached),
      walk: await readFile(join(pattern, 'walk.yaml')),
      picks: await readFile(join(pattern, 'picks.json')),
    },
    paper: 'A4',
    maskPlates: false,
  })
  const file = home.path(name)
  await writeFile(file, bytes)
  expect(Buffer.from(sealed(bytes)).equals(bytes)).toBe(true)
  return file
}

test('a sheet whose results were exchanged and its hash made anew is told by its printed figures', async () => {
  const text = await readFile(join(pattern, 'results.json'), 'utf8')
  const results = JSON.parse(text) as WalkResults
  const raised = <Figure extends { readonly value: number }>(figure: Figure): Figure => ({
    ...figure,
    value: 1.1 * figure.value,
  })
  const better = {
    ...results,
    marks: results.marks.map((mark) =>
      mark.distance === 9 ? { ...mark, density: raised(mark.density) } : mark,
    ),
    promises: results.promises.map((promise) => ({
      ...promise,
      onOtherBasis: promise.onOtherBasis && raised(promise.onOtherBasis),
    })),
  }
  const file = await forgedSheet('forged.pdf', better, text)
  const { status, wrong } = await verified(file)
  expect([status, wrong]).toEqual([
    1,
    [`${file}: promise 1, Observe at 9 m`, `${file}: day, board: the 9 m mark`],
  ])
})

describe('results.json with a verdict written into it by hand', () => {
  /** A promise the walk does not keep, and its results after somebody wrote that it does. */
  async function forged(name: string): Promise<string> {
    const dir = await copyOf(name)
    await rm(join(dir, 'sheet.pdf'))
    const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
    await writeFile(join(dir, 'walk.yaml'), yaml.replace('grade: observe', 'grade: identify'))
    expect((await runCommand('measure', dir)).status).toBe(1)
    await edit(dir, '"verdict": "not met"', '"verdict": "met"')
    return dir
  }
  async function edit(dir: string, from: string | RegExp, to: string): Promise<void> {
    const file = join(dir, 'results.json')
    const text = await readFile(file, 'utf8')
    expect(text).toMatch(from)
    await writeFile(file, text.replace(from, to))
  }

  test('is named by verify and becomes no sheet, no comparison and no summary', async () => {
    const dir = await forged('forged-verdict')
    const told = 'promises[0].verdict says "met"; judged again, it is "not met"'
    const verify = await runCommand('verify', dir)
    expect([verify.status, verify.out]).toEqual([1, expect.stringContaining(`results.json: ${told}`)])
    const summary = await runCommand('summary', dir)
    expect([summary.status, summary.out]).toEqual([1, expect.stringContaining(told)])
    expect(summary.out).not.toContain('1 of 1 promised grade met')
    const sheet = await runCommand('sheet', dir)
    expect([sheet.status, sheet.err]).toEqual([0, expect.stringContaining(told)])
    const { text } = await readSheetPdf(await readFile(join(dir, 'sheet.pdf')), 'sheet.pdf')
    expect(text).toContain('not met')
    expect((await verified(dir)).status).toBe(0)
    await edit(dir, '"verdict": "not met"', '"verdict": "met"')
    const compare = await runCommand('compare', dir, pattern)
    expect(compare.err).toContain(told)
  })

  test('what only pixels show is found by --deep, and said not to be checked without', async () => {
    const dir = await copyOf('forged-detail')
    await edit(dir, /"overshoot": [0-9.e-]+/, '"overshoot": 0.5')
    await rm(join(dir, 'sheet.pdf'))
    const shallow = await runCommand('verify', dir)
    expect([shallow.status, shallow.out]).toEqual([0, expect.stringContaining('--deep measures them again')])
    const deep = await runCommand('verify', dir, '--deep', '--workers', '1')
    expect(deep.status).toBe(1)
    expect(deep.out).toMatch(
      /stills\[0\]\.sharpness\.horizontal\.overshoot says 0\.5; measured again, it is 0/,
    )
    expect(deep.out).not.toContain('--deep measures them again')
    expect((await runCommand('verify', pattern, '--deep', '--workers', '1')).status).toBe(0)
  })

  test('a sheet alone cannot be measured again, in one line', async () => {
    const run = await runCommand('verify', join(pattern, 'sheet.pdf'), '--deep')
    expect([run.status, run.err.trimEnd().split('\n')]).toEqual([2, [expect.stringContaining('--deep')]])
  })
})

test('a sheet written anew around forged results, every figure as attached, is told by judging it again', async () => {
  const text = (await readFile(join(pattern, 'results.json'), 'utf8')).replaceAll('"observe"', '"recognise"')
  const file = await forgedSheet('forged-whole.pdf', JSON.parse(text) as WalkResults, text)
  const { out, status } = await runCommand('verify', file)
  expect(status).toBe(1)
  expect(out).toMatch(/printed figures agree with the attached results/)
  expect(out).toContain('promises[0].grade says "recognise"; judged again, it is "observe"')
})

test.each([
  ['a file that is not a PDF', 'walk.yaml', /cannot be read as a PDF .*; name a sheet/],
  ['a folder without results', 'stills', /has no results\.json to compare its files with; proofwalk measure/],
  ['nothing', 'nowhere', /there is no such folder or sheet; name/],
])('%s is refused in one line', async (_, name, told) => {
  const run = await runCommand('verify', join(pattern, name))
  expect([run.status, run.out]).toEqual([2, ''])
  expect(run.err).toMatch(told)
  expect(run.err.trimEnd().split('\n')).toHaveLength(1)
})

test('what is added behind the end of a sheet shows', async () => {
  const file = home.path('longer.pdf')
  await cp(join(pattern, 'sheet.pdf'), file)
  await appendFile(file, '\n% one more line\n')
  expect(await verified(file)).toMatchObject({ status: 1, wrong: [file] })
})

test('many large stills are hashed with few open files and little memory, and none is called changed', async () => {
  const dir = await home.freshWalk('large')
  const [stills, bytesEach] = [120, 3_000_000]
  for (let index = 0; index < stills; index++) {
    const still = join(dir, `stills/day/6m-${index}.jpg`)
    await cp(join(dir, 'stills/day/6m.jpg'), still)
    await truncate(still, bytesEach)
  }
  expect((await runCommand('measure', dir)).status).toBe(0)
  // Of this program alone: what getrusage tells begins with the memory of the process that started it.
  const tellMost = `import{readFileSync}from'node:fs';process.on('exit',()=>console.error(/VmHWM:\\s+(\\d+)/.exec(readFileSync('/proc/self/status'))[1]))`
  const env = { NODE_OPTIONS: `--import=data:text/javascript,${encodeURIComponent(tellMost)}` }
  // Fewer than there are stills; reading the program's own parts takes some sixty of them for a moment.
  const run = await runThroughShell('ulimit -n 100; exec "$@"', ['verify', dir], { env })
  expect(run.out).toContain('everything belongs together')
  expect(run.out).toContain(`${stills + 3} stills, as measured`)
  const mostMb = Math.max(...run.err.trim().split('\n').map(Number)) / 1000
  expect(mostMb).toBeGreaterThan(30)
  expect(mostMb).toBeLessThan(200)
  await appendFile(join(dir, 'stills/day/6m-7.jpg'), 'x')
  expect((await verified(dir)).wrong).toEqual(['stills/day/6m-7.jpg'])
}, 240_000)
