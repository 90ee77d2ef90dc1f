// What a user pays: the processor time of `proofwalk measure` in a process of its own, over that of a bare decode of the same stills by sharp, in turn: a walk of charts and one of
// corners, 24 stills of 12 megapixels each, measured first and then again unchanged. Then the wall time of `--help` over that of an empty program. Build first.
// Arguments: rounds (5), stills of a walk (24), width of a still (4000 px), another folder that holds the package, built.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { writeLargeWalk } from './largeWalk.js'

const ROUNDS = Number(process.argv[2] ?? 5)
const STILLS = Number(process.argv[3] ?? 24)
const WIDTH = Number(process.argv[4] ?? 4000)
const BIN = join(process.argv[5] ?? '.', 'bin/proofwalk.js')

const home = mkdtempSync(join(tmpdir(), 'proofwalk-bench-'))
const toldCpu = join(home, 'cpu')
const tellCpu = join(home, 'tellCpu.mjs')
writeFileSync(
  tellCpu,
  `import { writeFileSync } from 'node:fs'
import { isMainThread } from 'node:worker_threads'
if (isMainThread) process.on('exit', () => {
  const { user, system } = process.cpuUsage()
  writeFileSync(${JSON.stringify(toldCpu)}, String((user + system) / 1000))
})`,
)
const decodeAll = join(home, 'decodeAll.mjs')
writeFileSync(
  decodeAll,
  `const { default: sharp } = await import(${JSON.stringify(import.meta.resolve('sharp'))})
sharp.cache(false)
sharp.concurrency(1)
for (const file of process.argv.slice(2)) await sharp(file).raw().toBuffer()`,
)
// The stills are of invented scenes that have nothing in common: what registering them costs is bench/scene's to tell.
const help = spawnSync(process.execPath, [BIN, 'measure', '--help'], { encoding: 'utf8' })
const measure = [BIN, 'measure', ...(help.stdout.includes('--no-scene') ? ['--no-scene'] : [])]
const empty = join(home, 'empty.mjs')
writeFileSync(empty, '')

try {
  for (const kind of ['chart', 'corners'] as const) {
    const dir = join(home, kind)
    const files = await writeLargeWalk(dir, kind, STILLS, WIDTH)
    const rounds = Array.from({ length: ROUNDS }, () => {
      rmSync(join(dir, '.proofwalk'), { recursive: true, force: true })
      rmSync(join(dir, 'results.json'), { force: true })
      const decode = cpuMs([decodeAll, ...files])
      const first = cpuMs([...measure, dir])
      expectMeasured(dir)
      const second = cpuMs([...measure, dir])
      return { decode, first, second }
    })
    const of = (ratio: (round: (typeof rounds)[number]) => number): string => spread(rounds.map(ratio))
    console.log(`${STILLS} stills with ${kind}, processor time, ${ROUNDS} rounds:`)
    console.log(`  by command, over bare decode              ${of(({ first, decode }) => first / decode)}`)
    console.log(`  second run unchanged, over the first      ${of(({ first, second }) => second / first)}`)
    console.log(`  decode, ms a still                        ${of(({ decode }) => decode / STILLS)}`)
    console.log(`  second run, ms in all                     ${of(({ second }) => second)}`)
  }
  const started = Array.from({ length: 4 * ROUNDS }, () => wallMs([BIN, '--help']) / wallMs([empty]))
  console.log(`--help over an empty program, wall time     ${spread(started)}`)
} finally {
  rmSync(home, { recursive: true, force: true })
}

/** Processor time of a script in a process of its own, all its threads, ms. */
function cpuMs(args: readonly string[]): number {
  rmSync(toldCpu, { force: true })
  const { stderr } = spawnSync(process.execPath, ['--import', tellCpu, ...args], { encoding: 'utf8' })
  if (!existsSync(toldCpu)) throw new Error(`${args.join(' ')}: ${stderr}`)
  return Number(readFileSync(toldCpu, 'utf8'))
}

function wallMs(args: readonly string[]): number {
  const began = performance.now()
  spawnSync(process.execPath, args)
  return performance.now() - began
}

function expectMeasured(dir: string): void {
  const { stills, failed } = JSON.parse(readFileSync(join(dir, 'results.json'), 'utf8')) as {
    stills: unknown[]
    failed: unknown[]
  }
  if (stills.length === STILLS) return
  throw new Error(`${stills.length} of ${STILLS} stills were measured: ${JSON.stringify(failed[0])}`)
}

/** Median, least and most. */
function spread(values: readonly number[]): string {
  const sorted = [...values].sort((a, b) => a - b)
  const text = (value: number): string => (value < 10 ? value.toFixed(2) : value.toFixed(0))
  return `${text(sorted[Math.floor(sorted.length / 2)]!)} (${text(sorted[0]!)} to ${text(sorted.at(-1)!)})`
}
