// Measures the demonstration walk against the bare full-resolution decode of the same stills, in turn, on one thread, imports excluded.
// Prints the ratio of each pair and their median: under 1 means that measuring costs less than decoding whole.
// A chart is looked for in the whole picture and fitted, so a walk with charts costs more: both are printed.
// Arguments: pairs (7), the folder of another walk.
import { cp, mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { measureWalk, readWalk } from '../src/index.js'
import { stillRunner } from '../src/walk/measure/stillRunner.js'
import { isChart } from '../src/measure/reference/reference.js'
import { makeDemoWalk } from '../src/simulate/demo/makeDemoWalk.js'

const ROUNDS = Number(process.argv[2] ?? 7)
const other = process.argv[3]

const home = await mkdtemp(join(tmpdir(), 'proofwalk-bench-'))
try {
  const dir = join(home, 'walk')
  if (other === undefined) await makeDemoWalk(dir, { workers: 1 })
  else await cp(other, dir, { recursive: true })
  sharp.cache(false)
  sharp.concurrency(1)
  const stills = await printRatios(dir, 'with the charts that are looked for')
  const charts = stills.filter(({ reference }) => reference === 'chart')
  for (const { file } of charts) await rm(join(dir, file))
  if (charts.length > 0) await printRatios(dir, 'with corners given, no chart in the walk', false)
} finally {
  await rm(home, { recursive: true, force: true })
}

async function printRatios(dir: string, what: string, hasChart = true) {
  const read = await readWalk(dir)
  const references = read.references.filter(({ reference }) => hasChart || !isChart(reference))
  const walk = { ...read, references }
  // On this thread, and without registering, which has a bench of its own.
  const measure = () => measureWalk(walk, { runner: stillRunner(0, null), scene: false })
  const { stills } = await measure()
  if (stills.length === 0) throw new Error('no still was measured')
  const files = stills.map((still) => join(dir, still.file))
  const ratios: number[] = []
  for (let round = 0; round <= ROUNDS; round++) {
    const measureMs = await timeMs(measure)
    const decodeMs = await timeMs(() => decodeWhole(files))
    if (round > 0) ratios.push(measureMs / decodeMs) // the first pair warms up
  }
  ratios.sort((a, b) => a - b)
  console.log(`measure / bare full decode, ${files.length} stills ${what}, ${ROUNDS} pairs on one thread:`)
  console.log(
    `  ${ratios.map((ratio) => ratio.toFixed(2)).join('  ')}   median ${ratios[(ROUNDS - 1) / 2]!.toFixed(2)}`,
  )
  return stills
}

async function decodeWhole(files: readonly string[]) {
  for (const file of files)
    await sharp(await readFile(file))
      .raw()
      .toBuffer()
}

async function timeMs(work: () => Promise<unknown>) {
  const start = performance.now()
  await work()
  return performance.now() - start
}
