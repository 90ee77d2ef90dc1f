import { readFileSync } from 'node:fs'
import { clipsOf, codedStills } from './video/codedStills.js'
import { measureVideo, type StillRow } from './video/measureVideo.js'
import { SETTINGS } from './video/settings.js'
import { videoTable } from './video/videoTable.js'
import { drawWalker } from './video/walker.js'

// What recorders make of stills: clips of a walker who comes to a stand, swaying, with photon noise, through Debian's ffmpeg, measured as a walk's stills are, against exact
// geometry, the optics, and what a matched filter reads. Stills stay in the temporary folder, so that a second run encodes nothing. Arguments: walkers (6), then families or
// words of settings' names that a setting must have one of; --kept-aside takes the settings kept aside instead of the others, --settings makes a row of each setting,
// --moments=2 takes both stills of each of two moments of a stand. Rows of several runs are put together: --rows prints them instead of tables, a line each, and
// --from=FILE takes those of a file instead of measuring.

const given = process.argv.slice(2)
const words = given.filter((word) => !word.startsWith('--'))
const [walkers = '6', ...only] = words
const valueOf = (option: string): string | undefined =>
  given.find((one) => one.startsWith(`--${option}=`))?.slice(option.length + 3)
const isAside = given.includes('--kept-aside')
const settings = SETTINGS.filter(({ keptAside = false, family, name }) => {
  const isAsked = only.length === 0 || only.some((word) => family === word || name.includes(word))
  return isAsked && keptAside === isAside
})
const clean = SETTINGS.find(({ family }) => family === 'raw by day')!

if (given.includes('--rows')) {
  for await (const row of measured(settings)) console.log(JSON.stringify(row))
} else {
  const all = await rowsToShow()
  const names = new Set(settings.map(({ name }) => name))
  const [rows, cleanRows] = [
    all.filter(({ setting }) => names.has(setting)),
    all.filter(({ setting }) => setting === clean.name),
  ]
  const count = new Set(rows.map(({ walker }) => walker)).size
  console.log(
    `${rows.length} stills of ${count} walkers, 60 to 270 px/m${isAside ? ', settings kept aside' : ''}\n`,
  )
  console.log(videoTable(rows, cleanRows, ({ family }) => family))
  if (given.includes('--settings')) console.log(`\n${videoTable(rows, cleanRows, ({ setting }) => setting)}`)
}

async function rowsToShow(): Promise<StillRow[]> {
  const file = valueOf('from')
  if (file === undefined) return drained(measured([...new Set([clean, ...settings])]))
  const lines = readFileSync(file, 'utf8').split('\n')
  return lines.filter((line) => line !== '').map((line) => JSON.parse(line) as StillRow)
}

async function* measured(asked: readonly (typeof clean)[]): AsyncGenerator<StillRow> {
  for (let seed = 0; seed < Number(walkers); seed += 1) {
    const walker = drawWalker(seed)
    for (let moment = 0; moment < Number(valueOf('moments') ?? 1); moment += 1) {
      const clips = clipsOf(walker, moment)
      for (const setting of asked)
        for (const still of await codedStills(walker, setting, clips))
          yield measureVideo(walker, setting, still)
    }
  }
}

async function drained<Value>(all: AsyncIterable<Value>): Promise<Value[]> {
  const values: Value[] = []
  for await (const value of all) values.push(value)
  return values
}
