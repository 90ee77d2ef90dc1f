import { catalogue } from '../sentences.js'

/** How the options that name what one still shows are written. */
export const STILL_OPTIONS = {
  reference: 'name a preset or a size: 600x400mm, or --chart A2 for the printed chart',
  ends: 'give both ends: --ends "x,y x,y"',
  corners: 'give the four corners clockwise from its top left: --corners "x,y x,y x,y x,y"',
} as const
type StillOption = keyof typeof STILL_OPTIONS

/** Where an option is that is out of place, and what to do about it. */
const OUT_OF_PLACE = {
  'chart-alone': ['the chart is found by itself', 'leave it out'],
  'strip-of-length': ['strips are fixed under a chart or a board', 'leave it out'],
  'dim-strips': ['strips are printed on white', 'leave out --dim'],
  'pack-or-merge': ['does not go with --pack', 'merge first, then pack'],
  'of-a-walk': ["is for a walk's folder", 'name the walk in place of the packed trial'],
  letters: ['letter cards are printed on white, each on its own sheet', 'leave it out'],
  'without-letters': ['is of letter cards', 'give --letters as well'],
  'width-without-chart': ['is of the chart', 'give --chart A2 as well'],
  'for-one-still': ['is for one still', 'measure stills one at a time'],
  'for-one-still-not-walk': ['is for one still', 'in a walk this stands in walk.yaml and picks.json'],
  'watches-one-walk': ['is for one walk', 'watch one folder at a time'],
  'for-a-folder': ["is for a walk's folder", 'leave it out'],
  'sheet-of-one-walk': ['is for one walk', 'leave it out: every sheet is written into its walk as sheet.pdf'],
  'from-is-needed': ['is needed with --cameras', 'name the walk that all are made alike'],
  'cameras-are-needed': ['is needed with --from', 'name a CSV with a line for each camera'],
  'not-with-cameras': [
    'does not go with --cameras',
    'write it into the walk that is copied, or as a column of the list',
  ],
} as const

/** All that commands say of how they were called and of the places they were given. */
export const cliSays = catalogue({
  'option-out-of-place': {
    topic: 'usage',
    say: (how: keyof typeof OUT_OF_PLACE) => OUT_OF_PLACE[how][0],
    mend: (how: keyof typeof OUT_OF_PLACE) => OUT_OF_PLACE[how][1],
  },
  'letters-too-large': {
    topic: 'usage',
    say: (paper: string) => `seven letters of this size do not fit on ${paper}, or their stroke is too wide`,
    mend: 'print on --paper A2 or larger, or give a smaller --height and --stroke',
  },
  'pack-there': {
    code: 'already-there',
    topic: 'files',
    say: 'is there already, perhaps with answers, and is not overwritten',
    mend: 'give --pack another name',
  },
  'cards-there': {
    code: 'already-there',
    topic: 'files',
    say: 'has what printed cards say, and is not overwritten',
    mend: 'move it to its walk, or write the new cards into another folder',
  },
  'still-of-walk': {
    code: 'option-missing',
    topic: 'usage',
    say: (dir: string, _typed: string) => `this still is of the walk ${dir}`,
    mend: (_dir: string, typed: string) =>
      `proofwalk measure ${typed} measures it, or measure it alone with --reference`,
  },
  'points-of-other-kind': {
    code: 'option-out-of-place',
    topic: 'usage',
    say: (kind: 'rectangle' | 'length') => `the reference is a ${kind}`,
    mend: (kind: 'rectangle' | 'length') =>
      kind === 'length' ? 'a length has --ends' : 'a rectangle has --corners',
  },
  'option-missing': {
    topic: 'usage',
    say: (_option: StillOption) => 'it is needed to measure one still',
    mend: (option: StillOption) => STILL_OPTIONS[option],
  },
  'bad-sigma': {
    topic: 'usage',
    say: (text: string) => `"${text}" is not a number of pixels above 0 and up to 100`,
    mend: 'write --sigma 0.5',
  },
  'not-above-nought': {
    code: 'no-length',
    topic: 'usage',
    say: (option: string, _example: string) => `a ${option.replace('-', ' ')} must be above 0`,
    mend: (option: string, example: string) => `write --${option} ${example}`,
  },
  'unknown-topic': {
    topic: 'usage',
    say: (name: string, _near: string | null) => `there is no help on "${name}"`,
    mend: (_name: string, near: string | null) =>
      near === null ? '"proofwalk help" lists commands and topics' : `did you mean ${near}?`,
  },
  'no-codes': {
    topic: 'usage',
    say: (name: string) => `there are no codes under "${name}"`,
    mend: 'leave --json out, or name a topic with codes',
  },
  'same-folder': {
    topic: 'usage',
    say: 'is named twice',
    mend: 'name the folder of the later walk second. Every walk has its own folder',
  },
  'nothing-measured': { topic: 'stills', say: 'no still was measured: this sheet is empty' },
  stopped: { topic: 'usage', say: 'stopped; nothing was written' },

  'walk-gone': {
    topic: 'files',
    say: 'went away while it was measured, and nothing was written',
    mend: 'put its disk or stick back in, and measure again',
  },
  'watched-gone': {
    topic: 'files',
    say: 'is not there any more, and is waited for',
    mend: 'put its disk or stick back in, or end with Ctrl-C',
  },
  'no-folder-or-still': {
    code: 'not-there',
    topic: 'files',
    say: 'there is no such folder or still',
    mend: 'name a walk\'s folder ("proofwalk new DIR" makes one) or a still',
  },
  'no-folder-or-sheet': {
    code: 'not-there',
    topic: 'files',
    say: 'there is no such folder or sheet',
    mend: "name a walk's folder or a sheet.pdf",
  },
  'no-list': {
    topic: 'files',
    say: (reason: string | undefined) =>
      reason === 'ENOENT' ? 'is not there' : `cannot be read (${reason ?? 'unknown reason'})`,
    mend: 'name a CSV with a line for each camera',
  },
  'file-of-walk': {
    topic: 'files',
    say: (_folder: string) => 'belongs to a walk and is not a still',
    mend: (folder: string) => `name its folder: proofwalk measure ${folder}`,
  },
  unreadable: {
    topic: 'files',
    say: (reason: string | null) => `cannot be read${reason === null ? '' : ` (${reason})`}`,
    mend: 'allow reading it',
  },
  'not-a-csv': { topic: 'files', say: 'is not called a CSV', mend: 'give --csv a name that ends in .csv' },
  'one-of-many-already-there': {
    code: 'already-there',
    topic: 'files',
    say: 'exists and is not overwritten',
    mend: 'nothing was written. Move it away, or name another folder',
  },
  'output-lost': {
    topic: 'files',
    say: (reason: string) => `cannot be written (${reason})`,
    mend: 'make room or send it elsewhere',
  },
  'no-sheet-beside': {
    topic: 'files',
    say: 'no sheet.pdf vouches for it. "proofwalk measure" makes the same again from the same files',
  },
  'on-neither': { topic: 'files', say: 'there is none, nor on the sheet' },
  attached: { topic: 'files', say: 'is the one attached to sheet.pdf' },
  'not-attached': { topic: 'files', say: 'is not the one attached to sheet.pdf' },
  'budgets-untold': { topic: 'compare', say: 'results.json does not say how its uncertainties are made up' },
  'read-through-lens': {
    topic: 'lens',
    say: (isOfWalk: boolean, p: string, perRadian: string) =>
      `Corners were read through the lens ${isOfWalk ? 'measured on this walk' : 'of the data sheet, which the walk agrees with'}. Its p = ${p}; px per radian in the middle of the picture: ${perRadian}`,
  },
})
