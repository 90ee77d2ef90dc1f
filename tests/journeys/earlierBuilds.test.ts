import { cp, readFile, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { currentResults } from '../../src/walk/measure/currentResults.js'
import { readWalk } from '../../src/walk/read/readWalk.js'
import { resultsSchema } from '../../src/walk/schemas/resultsSchema.js'
import { runCommand } from '../cli/recordingTerminal.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()
const FIRST = fileURLToPath(new URL('../../fixtures/sheets/first-build', import.meta.url))

interface Check {
  readonly what: string
  readonly matches: boolean | null
  readonly message: string
}

async function verified(target: string): Promise<{ status: number | null; checks: readonly Check[] }> {
  const { status, out, err } = await runCommand('verify', target, '--json')
  expect(err).toBe('')
  return { status, checks: (JSON.parse(out) as { checks: Check[] }).checks }
}

/** A copy of the first build's small walk, a file of it changed. */
async function changedWalk(name: string, file: string, change: (text: string) => string): Promise<string> {
  const dir = home.path(name)
  await rm(dir, { recursive: true, force: true })
  await cp(join(FIRST, 'net-loft'), dir, { recursive: true })
  const path = join(dir, file)
  const text = await readFile(path, 'latin1')
  expect(change(text)).not.toBe(text)
  await writeFile(path, change(text), 'latin1')
  return dir
}

describe('a sheet of the first build', () => {
  test('is whole by its hashes; its printed figures are left to the release that printed them', async () => {
    const { status, checks } = await verified(join(FIRST, 'sheet.pdf'))
    expect(checks.filter(({ matches }) => matches === false)).toEqual([])
    expect(status).toBe(0)
    expect(checks.map(({ matches }) => matches)).toEqual([true, true, true, null])
    expect(checks.at(-1)!.message).toMatch(/^not checked: made by method 1/)
  })

  test('is not whole with one byte changed, wherever it is', async () => {
    const bytes = await readFile(join(FIRST, 'sheet.pdf'))
    for (const at of [12, bytes.length >> 1, bytes.indexOf('/EmbeddedFile') + 300, bytes.length - 4]) {
      const copy = home.path('touched.pdf')
      const touched = Buffer.from(bytes)
      touched[at]! ^= 1
      await writeFile(copy, touched)
      const { status, checks } = await verified(copy)
      expect([at, status, checks.find(({ matches }) => matches === false)?.what]).toEqual([at, 1, copy])
    }
  })
})

describe('a walk measured by the first build', () => {
  test('belongs together as it lies', async () => {
    const run = await runCommand('verify', join(FIRST, 'net-loft'))
    expect([run.status, run.err]).toEqual([0, ''])
    expect(run.out).toContain('everything belongs together')
    expect(run.out).toContain('3 stills, as measured')
  })

  test.each([
    ['stills/day/6m.jpg', (text: string) => `${text.slice(0, -1)}x`],
    ['walk.yaml', (text: string) => text.replace('12', '13')],
    ['picks.json', (text: string) => text.replace('0.5', '0.6')],
    ['results.json', (text: string) => text.replace('"onTarget": 1', '"onTarget": 2')],
  ])('does not with %s changed', async (file, change) => {
    const { status, checks } = await verified(await changedWalk('changed', file, change))
    expect(status).toBe(1)
    expect(checks.filter(({ matches }) => matches === false).map(({ what }) => what)).toContain(file)
  })

  test('is read with what came since filled in, and what another release added kept', async () => {
    const text = await readFile(join(FIRST, 'net-loft/results.json'), 'utf8')
    const contents = JSON.parse(text) as { stills: object[] }
    const results = resultsSchema.parse(contents)
    expect(results).toMatchObject(contents)
    expect(results).toMatchObject({
      inputs: { walkPlain: null },
      walk: { dateFrom: 'walk', distance: { begins: 0 } },
      scene: null,
      readings: [],
    })
    expect(results.stills[0]).toMatchObject({ resolved: null, detailFrom: null, bound: null, sameAs: null })
    expect(results.promises[0]).toMatchObject({ task: null, what: null, kind: 'least' })
    const later = {
      ...contents,
      weather: 'dry',
      stills: contents.stills.map((still) => ({ ...still, tint: 3 })),
    }
    expect(resultsSchema.parse(later)).toMatchObject(later)
  })

  test('stands for its walk as long as the method is the same', async () => {
    const current = await currentResults(await readWalk(join(FIRST, 'net-loft')))
    const { method } = JSON.parse(await readFile(join(FIRST, 'net-loft/results.json'), 'utf8')) as {
      method: string
    }
    const { METHOD_VERSION } = await import('../../src/measure/stillMeasurement.js')
    if (method === METHOD_VERSION) expect(current.results?.stills).toHaveLength(3)
    else expect(current).toEqual({ results: null, why: 'the way of measuring has changed since' })
  })
})

test('a walk of a method yet to come is held to its hashes, whatever else its results say', async () => {
  const dir = await changedWalk('later', 'results.json', (text) => {
    const results = JSON.parse(text) as Record<string, unknown>
    return JSON.stringify({ ...results, method: '99', marks: 'otherwise', promises: null })
  })
  const { checks } = await verified(dir)
  const wrong = checks.filter(({ matches }) => matches === false)
  expect(wrong.map(({ what, message }) => [what, message])).toEqual([
    ['results.json', 'is not the one attached to sheet.pdf'],
  ])
})
