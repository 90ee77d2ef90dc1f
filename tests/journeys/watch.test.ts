import { spawn } from 'node:child_process'
import { cp, readFile, rename, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, onTestFinished, test, vi } from 'vitest'
import { BIN, runProofwalk } from './runProofwalk.js'
import { temporaryHome } from './temporaryHome.js'

const PATTERN = fileURLToPath(new URL('../../fixtures/walks/ground-chart', import.meta.url))
const home = temporaryHome()
const SOON = { timeout: 60_000, interval: 50 }

test('measure --watch prints the row of a still that comes, alone, and then the results of the whole walk', async () => {
  const whole = home.path('whole')
  await cp(PATTERN, whole, { recursive: true })
  await runProofwalk(['measure', whole])
  const dir = home.path('watched')
  await cp(PATTERN, dir, { recursive: true })
  await rm(join(dir, 'results.json'))
  await rename(join(dir, 'stills/day/6m.jpg'), home.path('6m.jpg'))

  const child = spawn(process.execPath, [BIN, 'measure', dir, '--watch'])
  onTestFinished(() => void child.kill('SIGKILL'))
  let [out, err] = ['', '']
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text))
  child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text))
  await vi.waitFor(() => expect(err).toContain('watching'), SOON)
  out = ''
  const came = performance.now()
  await rename(home.path('6m.jpg'), join(dir, 'stills/day/6m.jpg'))
  await vi.waitFor(() => expect(out).toContain('6m.jpg'), SOON)
  console.log(`  the row came after ${(performance.now() - came).toFixed(0)} ms`)
  await vi.waitFor(() => expect(out).toContain('Next: '), SOON)
  expect(out).toMatch(/^stills\/day\/6m\.jpg: chart, [\d.]+ px\/m \([\d.]+ to [\d.]+\), \w+\n/)
  expect(out.match(/\.jpg/g)).toHaveLength(1)
  expect(await readFile(join(dir, 'results.json'), 'utf8')).toBe(
    await readFile(join(whole, 'results.json'), 'utf8'),
  )

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
