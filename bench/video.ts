import { clipsOf, codedStills } from './video/codedStills.js'
import { measureVideo, type StillRow } from './video/measureVideo.js'
import { SETTINGS } from './video/settings.js'
import { videoTable } from './video/videoTable.js'
import { drawWalker } from './video/walker.js'

// What recorders make of stills: clips of a walker who comes to a stand, swaying, with photon noise, through Debian's ffmpeg, measured as a walk's stills are, against exact
// geometry, the optics, and what a matched filter reads. Stills stay in the temporary folder, so that a second run encodes nothing. Arguments: walkers (6), then families or
// words of settings' names that a setting must have one of; --kept-aside takes the settings kept aside instead of the others, --settings makes a row of each setting.

const given = process.argv.slice(2)
const words = given.filter((word) => !word.startsWith('--'))
const [walkers = '6', ...only] = words
const isAside = given.includes('--kept-aside')
const settings = SETTINGS.filter(({ keptAside = false, family, name }) => {
  const isAsked = only.length === 0 || only.some((word) => family === word || name.includes(word))
  return isAsked && keptAside === isAside
})
const clean = SETTINGS.find(({ family }) => family === 'raw by day')!

const moments = Number(given.find((one) => one.startsWith('--moments='))?.split('=')[1] ?? 1)

const rows: StillRow[] = []
const cleanRows: StillRow[] = []
for (let seed = 0; seed < Number(walkers); seed += 1) {
  const walker = drawWalker(seed)
  for (let moment = 0; moment < moments; moment += 1) {
    const clips = clipsOf(walker, moment)
    for (const setting of new Set([clean, ...settings]))
      for (const still of await codedStills(walker, setting, clips)) {
        const row = await measureVideo(walker, setting, still)
        if (setting === clean) cleanRows.push(row)
        if (settings.includes(setting)) rows.push(row)
        if (process.env.ROWS !== undefined) console.error(JSON.stringify({ file: still.file, ...row }))
      }
  }
}
console.log(
  `${rows.length} stills of ${walkers} walkers, 60 to 270 px/m${isAside ? ', settings kept aside' : ''}\n`,
)
console.log(videoTable(rows, cleanRows, ({ family }) => family))
if (given.includes('--settings')) console.log(`\n${videoTable(rows, cleanRows, ({ setting }) => setting)}`)
