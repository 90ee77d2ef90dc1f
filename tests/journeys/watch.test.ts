import { spawn } from 'node:child_process'
import { cp, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, onTestFinished, test, vi } from 'vitest'
import { BIN, runProofwalk } from './runProofwalk.js'
import { temporaryHome } from './temporaryHome.js'

const PATTERN = fileURLToPath(new URL('../../fixtures/walks/ground-chart', import.meta.url))
const BOARDS = fileURLToPath(new URL('../../fixtures/walks/one-angle-board', import.meta.url))
const home = temporaryHome()
const SOON = { timeout: 60_000, interval: 50 }

/** A watched walk: what it said so far, and how it is told to end. */
async function watched(dir: string) {
  const child = spawn(process.execPath, [BIN, 'measure', dir, '--watch'])
  onTestFinished(() => void child.kill('SIGKILL'))
  const said = { out: '', err: '' }
  child.stdout.setEncoding('utf8').on('data', (text: string) => (said.out += text))
  child.stderr.setEncoding('utf8').on('data', (text: string) => (said.err += text))
  await vi.waitFor(() => expect(said.err).toContain('watching'), SOON)
  return { child, said }
}

test('measure --watch prints no row of a chart that is not beside a picked still', async () => {
  const dir = home.path('picked')
  await cp(BOARDS, dir, { recursive: true })
  const [yaml, picks] = await Promise.all(
    ['walk.yaml', 'picks.json'].map((file) => readFile(join(dir, file), 'utf8')),
  )
  await writeFile(join(dir, 'walk.yaml'), yaml!.replace(/board: \{[^}]*\}/, '$&, chart: { chart: A3 }'))
  await writeFile(join(dir, 'picks.json'), picks!.replaceAll('"corners"', '"reference": "board", "corners"'))
  const still = 'stills/day/4m.jpg'
  await rename(join(dir, still), home.path('4m.jpg'))
  const { said } = await watched(dir)
  said.out = ''
  await rename(home.path('4m.jpg'), join(dir, still))
  await vi.waitFor(() => expect(said.out).toMatch(/4m\.jpg[^]*Next: /), SOON)
  expect(said.out.split('\n').filter((line) => line.startsWith(still))).toEqual([
    expect.stringMatching(/^\S+: board, /),
  ])
})

test('measure --watch prints the row of a still that comes, alone, and then the results of the whole walk', async () => {
  const dir = home.path('watched')
  await cp(PATTERN, dir, { recursive: true })
  const whole = await readFile(join(dir, 'results.json'), 'utf8')
  await rm(join(dir, 'results.json'))
  await rename(join(dir, 'stills/day/6m.jpg'), home.path('6m.jpg'))

  const { child, said } = await watched(dir)
  said.out = ''
  const came = performance.now()
  await rename(home.path('6m.jpg'), join(dir, 'stills/day/6m.jpg'))
  await vi.waitFor(() => expect(said.out).toContain('6m.jpg'), SOON)
  console.log(`  the row came after ${(performance.now() - came).toFixed(0)} ms`)
  await vi.waitFor(() => expect(said.out).toContain('Next: '), SOON)
  expect(said.out).toMatch(/^stills\/day\/6m\.jpg: chart, [\d.]+ px\/m \([\d.]+ to [\d.]+\), \w+\n/)
  expect(said.out.match(/\.jpg/g)).toHaveLength(1)
  expect(await readFile(join(dir, 'results.json'), 'utf8')).toBe(whole)

  // Ended as people end it: what was measured is kept.
  const ended = new Promise((resolve) => child.once('close', resolve))
  child.kill('SIGINT')
  await ended
  const again = await runProofwalk(['measure', dir, '--workers', '2'], {
    env: {
      NODE_OPTIONS: "--import=data:text/javascript,process.on('worker',()=>console.error('a'+'thread'))",
    },
  })
  expect(again.err).toBe('')
})

test('measure --watch says once that its folder is gone, waits for it, and goes on when it is back', async () => {
  const dir = await home.freshWalk('stick')
  const { child, said } = await watched(dir)
  expect(said.out).toMatch(/^ +6 m /m)
  await rename(dir, home.path('pulled-out'))
  await vi.waitFor(() => expect(said.err).toContain('is not there any more'), SOON)
  await new Promise((resolve) => setTimeout(resolve, 1500))
  expect(said.err.split('is not there any more')).toHaveLength(2)
  expect(said.err).not.toContain('proofwalk new')
  expect(child.exitCode).toBeNull()

  said.out = ''
  await rm(home.path('pulled-out/stills/day/6m.jpg'))
  await rename(home.path('pulled-out'), dir)
  await vi.waitFor(() => expect(said.out).toContain('Next: '), SOON)
  expect(said.out).not.toContain('6 m ')
})
