// The most memory that measure, measure again, verify, sheet and summary take on walks of 24, 240 and 2,400 small stills (MB, of the process and its threads). Build first.
// Arguments: numbers of stills (24,240,2400), width of a still (800 px), another folder that holds the package, built.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { writeLargeWalk } from './largeWalk.js'

const COUNTS = (process.argv[2] ?? '24,240,2400').split(',').map(Number)
const WIDTH = Number(process.argv[3] ?? 800)
const BIN = join(process.argv[4] ?? '.', 'bin/proofwalk.js')

const home = mkdtempSync(join(tmpdir(), 'proofwalk-memory-'))
const told = join(home, 'most')
const tellMost = join(home, 'tellMost.mjs')
writeFileSync(
  tellMost,
  `import { readFileSync, writeFileSync } from 'node:fs'
import { isMainThread } from 'node:worker_threads'
let most = 0
const look = () => (most = Math.max(most, process.memoryUsage.rss() / 2 ** 20))
if (isMainThread) {
  setInterval(look, 20).unref()
  process.on('exit', () => writeFileSync(${JSON.stringify(told)}, String(look())))
}`,
)

try {
  for (const count of COUNTS) {
    const dir = join(home, String(count))
    await writeLargeWalk(dir, 'corners', count, WIDTH)
    const most = (...args: string[]): string => {
      rmSync(told, { force: true })
      const run = spawnSync(process.execPath, ['--import', tellMost, BIN, ...args], {
        encoding: 'utf8',
        maxBuffer: 1e9,
      })
      if (run.status === null || run.status > 1) throw new Error(`${args.join(' ')}: ${run.stderr}`)
      return `${args[0]} ${Number(readFileSync(told, 'utf8')).toFixed(0)}`
    }
    const commands = [
      most('measure', dir, '--workers', '2'),
      most('measure', dir, '--workers', '2'),
      most('verify', dir),
      most('sheet', dir),
      most('summary', dir),
    ]
    console.log(`${count} stills: ${commands.join(', ')}`)
  }
} finally {
  rmSync(home, { recursive: true, force: true })
}
