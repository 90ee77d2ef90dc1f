// Runs a bench: `node bench/run.js NAME [arguments]`, bundled first where it is TypeScript; `--smallest` takes its smallest case (of every bench, without
// a name, two at a time, with `--quick` those that take little) and fails where one fails or prints nothing; `--keep` leaves what it printed in bench/results/, with command, commit, date and Node's version.
import { execFileSync, spawn } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { riskPlot } from './riskPlot.js'

/** The arguments of each bench's smallest case. What a bench takes stands at its top. */
const SMALLEST = {
  causes: ['10', 'start +0.20 m', '4'],
  chartAccuracy: ['8', 'day', '0', '3'],
  chartAgainstDecode: ['1', '1000'],
  chartCases: ['1', 'nothing wrong'],
  chartFalseFinds: ['fixtures/photographs/coins.png'],
  chartSharpnessTable: ['1', 'day', '3'],
  chartTable: ['1', 'day', 'demanded'],
  hands: ['recorded', '1', 'finger'],
  legibility: ['2', 'day'],
  lentConstant: ['10', 'snapped'],
  measureAgainstDecode: ['1', 'fixtures/walks/one-angle-board'],
  measureByCommand: ['1', '2', '1500'],
  plateRims: ['1'],
  plates: ['1'],
  memory: ['2', '800'],
  mutants: ['1000'],
  paintedWalks: ['1', 'found'],
  sameExposure: ['1', 'jpeg'],
  scene: ['1', 'jpeg'],
  letterCards: ['1', 'day'],
  readingPromise: ['10', '0'],
  readingTrial: ['10'],
  riskCurves: ['20', 'snapped', '4'],
  siteSummary: ['2', '2'],
  twoCharts: ['1', 'day', '3'],
  video: ['1', 'day h.264 8'],
  videoReading: ['2', 'day h.264 8'],
}

/** Cases that take long for what they show of a change; `--quick` leaves them to the release, which runs all. */
const SLOW = [
  'chartAgainstDecode',
  'hands',
  'measureByCommand',
  'memory',
  'sameExposure',
  'scene',
  'siteSummary',
]

const root = fileURLToPath(new URL('..', import.meta.url))
const flags = ['--smallest', '--quick', '--keep']
const given = process.argv.slice(2)
const isSmallest = given.includes('--smallest')
const [named, ...rest] = given.filter((one) => !flags.includes(one))

if (named === undefined ? !isSmallest : !Object.hasOwn(SMALLEST, named))
  fail(`name a bench: ${Object.keys(SMALLEST).join(', ')}`)
const isQuick = given.includes('--quick')
const names = named === undefined ? everyBench().filter((name) => !isQuick || !SLOW.includes(name)) : [named]
const lane = async () => {
  for (let name = names.shift(); name !== undefined; name = names.shift()) {
    const args = isSmallest ? SMALLEST[name] : rest
    const printed = await run(name, args, named !== undefined)
    if (given.includes('--keep')) keep(name, args, printed)
  }
}
await Promise.all([lane(), lane()])

/** All benches; a file that is none exports what others import. */
function everyBench() {
  const inFolder = readdirSync(join(root, 'bench'))
    .filter((file) => /\.[jt]s$/.test(file) && file !== 'run.js')
    .filter((file) => !/^export /m.test(readFileSync(join(root, 'bench', file), 'utf8')))
    .map((file) => file.replace(/\.[jt]s$/, ''))
  const without = inFolder.filter((name) => !Object.hasOwn(SMALLEST, name))
  if (without.length > 0) fail(`no smallest case is written in bench/run.js for ${without.join(', ')}`)
  return inFolder
}

/** What a bench prints, shown as it comes or, where another runs beside it, at its end. */
async function run(name, args, isAlone) {
  const began = performance.now()
  const child = spawn(process.execPath, [await runnable(name), ...args], {
    cwd: root,
    stdio: ['inherit', 'pipe', 'inherit'],
  })
  const parts = []
  child.stdout.on('data', (part) => {
    if (isAlone) process.stdout.write(part)
    parts.push(part)
  })
  const status = await new Promise((resolve) => child.once('close', resolve))
  const printed = Buffer.concat(parts).toString('utf8')
  if (!isAlone) process.stdout.write(printed)
  if (status !== 0) fail(`${name} ended with status ${status}`)
  if (printed.trim() === '') fail(`${name} printed nothing`)
  console.error(`${name}: ${((performance.now() - began) / 1000).toFixed(1)} s`)
  return printed
}

/** The script to run: the bench itself, or its bundle. */
async function runnable(name) {
  const script = join(root, 'bench', `${name}.js`)
  if (existsSync(script)) return script
  const outfile = join(root, 'node_modules/.cache/bench', `${name}.mjs`)
  await build({
    entryPoints: [join(root, 'bench', `${name}.ts`)],
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    logLevel: 'warning',
  })
  return outfile
}

function keep(name, args, printed) {
  const git = (...words) => execFileSync('git', words, { cwd: root, encoding: 'utf8' }).trim()
  const changes = git('status', '--porcelain', '--', 'src', 'bench', 'tests') === '' ? '' : ', with changes'
  const file = join(root, 'bench/results', `${name}.md`)
  mkdirSync(dirname(file), { recursive: true })
  const heading = [
    `# ${name}\n`,
    `- command: node bench/run.js ${[name, ...args].map((word) => (/[^\w./-]/.test(word) ? `"${word}"` : word)).join(' ')}`,
    `- commit: ${git('rev-parse', '--short=10', 'HEAD')}${changes}`,
    `- date: ${new Date().toISOString().slice(0, 10)}`,
    `- node: ${process.version}\n`,
  ].join('\n')
  writeFileSync(file, `${heading}\n\`\`\`text\n${printed.trimEnd()}\n\`\`\`\n`)
  if (name === 'riskCurves') writeFileSync(file.replace(/md$/, 'svg'), riskPlot(printed, heading))
  console.error(`kept in ${relative(process.cwd(), file)}`)
}

function fail(message) {
  console.error(message)
  process.exit(1)
}
