import { mendByNearest } from '../../files/suggestNearest.js'
import { catalogue } from '../../sentences.js'
import { PAPER_MEND } from '../read/sentences.js'

const BAD_PROMISE = { topic: 'usage', code: 'bad-promise' } as const
const WALK = { topic: 'walk' } as const

/** All that is said of what a new walk is made from: promises and things carried as they are typed, and a list of cameras. */
export const newSays = catalogue({
  'promise-incomplete': {
    ...BAD_PROMISE,
    say: (text: string, missing: string) => `"${text}" names no ${missing}`,
    mend: 'write it like "read a plate at 16 m in day"',
  },
  'promise-nowhere': {
    ...BAD_PROMISE,
    say: (at: string) => `"${at}" is not a distance`,
    mend: 'it must be above 0',
  },
  'promise-share': {
    ...BAD_PROMISE,
    say: (what: string, least: number, most: number) => `"${what}" is not from ${least} to ${most} %`,
    mend: 'write it like "read a plate to 95 % at 12 m in day"',
  },
  'unknown-task': {
    ...BAD_PROMISE,
    say: (what: string) => `"${what}" is neither a task nor a grade`,
    mend: mendByNearest,
  },
  'unknown-paper': {
    topic: 'usage',
    say: (id: string) => (id === '' ? 'the chart needs its paper' : `there is no chart for paper "${id}"`),
    mend: `write "chart A2", or ${PAPER_MEND}`,
  },
  'judged-by-pixels': {
    topic: 'detail',
    say: 'neither a plate nor a staff has a clean edge to measure detail on',
    mend: 'carry a board or the chart as well and delete "judge: pixels"',
  },
  'wish-takes-detail': {
    topic: 'detail',
    say: 'a plate or a staff shows how many pixels fall on it, not how much of them is detail. Carry a board or the chart beside it at every mark in the same light',
  },

  'carry-missing': {
    code: 'option-missing',
    topic: 'usage',
    say: 'nothing says what is carried',
    mend: 'give --carry plate-eu, --carry 600x400mm, --carry 2m or --carry "chart A2", or run it on a terminal to be asked',
  },
  'no-length': {
    topic: 'usage',
    say: (text: string) => `"${text}" is not a length`,
    mend: 'write one above 0',
  },
  'bad-sensor': {
    code: 'bad-value',
    topic: 'usage',
    say: (text: string) => `"${text}" is neither an inch type nor a size`,
    mend: 'write 1/1.7 or "7.6 x 4.3 mm"',
  },
  'bad-date': {
    code: 'bad-value',
    topic: 'usage',
    say: (text: string, _today: string) => `"${text}" is not a date`,
    mend: (_text: string, today: string) => `write it as YYYY-MM-DD, such as ${today}`,
  },
  'bad-field-of-view': {
    topic: 'usage',
    say: (text: string) => `"${text}" is not a field of view; write 100 or "100 x 52", degrees`,
  },
  'unknown-grading': {
    topic: 'usage',
    say: (id: string, _known: readonly string[]) => `"${id}" is not a built-in grading`,
    mend: (id: string, known: readonly string[]) => mendByNearest(id, known),
  },
  'already-there': {
    topic: 'files',
    say: 'exists and is not overwritten',
    mend: 'edit it, or name another folder',
  },
  'not-a-folder': { topic: 'files', say: 'is not a folder', mend: 'name another' },

  'bad-csv': {
    ...WALK,
    say: 'a quote opens there and never ends',
    mend: 'close it, or double it to mean itself',
  },
  'no-camera': { ...WALK, say: 'there is no camera in the list', mend: 'write one on each line' },
  'too-many-fields': {
    ...WALK,
    say: (fields: number, columns: number) => `has ${fields} fields, the first line has ${columns}`,
    mend: 'put fields with a comma in quotes',
  },
  'unknown-column': { ...WALK, say: 'is not a known column', mend: mendByNearest },
  'duplicate-column': { ...WALK, say: 'is there twice', mend: 'keep one of the two' },
  'name-missing': {
    ...WALK,
    code: 'missing',
    say: 'is missing: a column with what each camera is called',
    mend: 'name it in the first line',
  },
  'bad-folder': {
    ...WALK,
    say: (folder: string) => `"${folder}" is not a name of a folder`,
    mend: 'write a plain name, or give the camera a name',
  },
  'duplicate-folder': {
    ...WALK,
    say: (folder: string) => `two cameras would share ${folder}`,
    mend: 'give them different names, ids or folders',
  },
})
