import { catalogue } from '../sentences.js'

const FILES = { topic: 'files' } as const
const WALK = { topic: 'walk' } as const
const BAD_VALUE = { ...WALK, code: 'bad-value' } as const
const OUT_OF_BOUNDS = { ...WALK, code: 'out-of-bounds' } as const

/** All that is said of reading and writing files and of what stands in them. */
export const filesSays = catalogue({
  'walk-busy': {
    ...FILES,
    say: 'another program keeps changing it',
    mend: 'let the other program finish and try again',
  },
  'folder-busy': {
    ...FILES,
    code: 'walk-busy',
    say: 'another program keeps changing it',
    mend: 'end other pages that are open on it and try again',
  },
  'folder-gone': {
    ...FILES,
    code: 'cannot-write',
    say: 'is no longer there, and nothing was written',
    mend: 'put its disk or stick back in, and try again',
  },
  'not-a-pdf': {
    ...FILES,
    means: 'only a PDF is ever overwritten, so a typing slip cannot cost a still or walk.yaml',
    say: (_option: string) => 'exists, is not a PDF, and is not overwritten',
    mend: (option: string) => `name another file with ${option}, or move it away`,
  },
  'cannot-write': {
    ...FILES,
    say: (reason: string, _mend: string) => `cannot be written: ${reason}`,
    mend: (_reason: string, mend: string) => mend,
  },
  'disk-fault': {
    ...FILES,
    say: (reason: string, _mend: string) => `cannot be read or written: ${reason}`,
    mend: (_reason: string, mend: string) => mend,
  },
  'not-a-file': { ...FILES, say: 'is not an ordinary file', mend: 'put a file there' },
  'path-leaves-walk': {
    ...FILES,
    say: "is a link out of the walk's folder",
    mend: 'copy the file into the walk',
  },
  'too-long': {
    ...FILES,
    say: (megabytes: number) => `is longer than ${megabytes} MB`,
    mend: 'check that it is the right file',
  },
  unreadable: { ...FILES, say: 'cannot be read', mend: 'allow reading it' },
  'link-in-a-circle': {
    ...FILES,
    code: 'unreadable',
    say: 'is a link that leads round in a circle',
    mend: 'copy the file there',
  },
  'not-utf8': { ...FILES, say: 'is not UTF-8 text', mend: 'save it as UTF-8' },
  'empty-file': {
    ...FILES,
    say: 'is empty',
    mend: 'put a copy of it back, or delete it and make it again',
  },

  'yaml-aliases': {
    ...WALK,
    say: 'repeats its anchors so often that it would explode',
    mend: 'write the repeated parts out',
  },
  'yaml-depth': { ...WALK, say: 'is nested too deeply to be read', mend: 'flatten it' },
  'duplicate-key': { ...WALK, say: 'is there twice', mend: 'keep one of the two' },
  'yaml-syntax': {
    ...WALK,
    say: (why: string) => `is not valid YAML here: ${why}`,
    mend: 'mind the indentation, the brackets and the quotes',
  },

  'unknown-key': {
    ...WALK,
    say: (_mend: string) => 'is not a known key',
    mend: (mend: string) => mend,
  },
  missing: { ...WALK, say: 'is missing' },
  empty: { ...WALK, say: 'has no value' },
  'wrong-kind': { ...WALK, say: (expected: string) => `must be ${KIND_NAMES[expected] ?? expected}` },
  'bad-name': {
    ...BAD_VALUE,
    means: 'a name has characters that names cannot have',
    say: (why: string | undefined) => why ?? 'is not a name',
    mend: 'rename it',
  },
  'not-understood': {
    ...BAD_VALUE,
    means: 'the value is not one of those allowed',
    say: (value: unknown) => `${JSON.stringify(value)} is not understood`,
  },
  'empty-list': { ...OUT_OF_BOUNDS, say: 'is an empty list' },
  'bad-count': {
    ...OUT_OF_BOUNDS,
    say: (small: boolean, bound: number | bigint) =>
      `must have ${small ? 'at least' : 'at most'} ${bound} entries`,
  },
  'out-of-bounds': {
    ...WALK,
    say: (small: boolean, bound: number | bigint, isInclusive: boolean) =>
      `must be ${small ? 'above' : 'below'} ${bound}${isInclusive ? `, or ${bound}` : ''}`,
  },
})

const KIND_NAMES: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'yes or no',
  object: 'a group of keys',
  record: 'a group of keys',
  array: 'a list',
  tuple: 'a list',
}

/** Why the system would not, and the mend. */
interface SystemReason {
  readonly reason: string
  readonly mend: string
}

const FOLDER_IN_THE_WAY = { reason: 'a folder has this name', mend: 'move it or choose another name' }
const NOT_ALLOWED = {
  reason: 'writing there is not allowed',
  mend: 'allow writing there or choose another place',
}
const DISK_FULL = { reason: 'the disk is full', mend: 'make room on the disk' }
const DISK_GONE = {
  reason: 'its disk or stick is gone',
  mend: 'put it back in, and do it again',
}
const TOO_MANY_OPEN = {
  reason: 'too many files are open',
  mend: 'close other programs, or allow more (ulimit -n)',
}

/** Why the system would neither read nor write, whatever the file, by its code. */
export const DISK_REASONS: Readonly<Record<string, SystemReason>> = {
  EIO: { reason: 'its disk or stick reports errors', mend: 'copy its files to another one' },
  ENODEV: DISK_GONE,
  ENXIO: DISK_GONE,
  ESTALE: DISK_GONE,
  ENOTCONN: DISK_GONE,
  EBUSY: { reason: 'another program holds it', mend: 'close that program' },
  EMFILE: TOO_MANY_OPEN,
  ENFILE: TOO_MANY_OPEN,
  EFBIG: { reason: 'it is too large for the disk or the system', mend: 'choose another place' },
  EROFS: { reason: 'the disk is read-only', mend: 'choose a place that can be written to' },
  ENOSPC: DISK_FULL,
  EDQUOT: DISK_FULL,
}

/** Why the system would not write, by its code. */
export const WRITE_REASONS: Readonly<Record<string, SystemReason>> = {
  ...DISK_REASONS,
  ENOENT: { reason: 'its folder is not there', mend: 'make the folder first' },
  ENOTDIR: { reason: 'its folder is a file', mend: 'name a real folder' },
  EISDIR: FOLDER_IN_THE_WAY,
  EEXIST: FOLDER_IN_THE_WAY,
  EACCES: NOT_ALLOWED,
  EPERM: NOT_ALLOWED,
  ENAMETOOLONG: { reason: 'its name is too long', mend: 'choose a shorter one' },
}

/** What follows where a store cannot be written, instead of a mend: nothing has to be done. */
export const STORE_GOES_ON = 'nothing is kept there for next time; the results are the same'

/** What to do about a field. */
export const FIELD_MENDS = {
  near: (word: string) => `did you mean ${word}?`,
  oneOf: (words: readonly string[]) => (words.length === 0 ? 'delete it' : `use one of ${words.join(', ')}`),
  example: (example: string) => `write for example ${example}`,
  kind: (description: string) => `it is ${description}`,
} as const

/** Why a text stops being JSON. */
export const JSON_SLIPS = {
  value: 'a value is missing here',
  'value or ]': 'a value or ] is missing here',
  key: 'a key in double quotes is missing here',
  'key or }': 'a key in double quotes or } is missing here',
  ':': 'a colon is missing here',
  unclosed: 'this text is not closed, or holds what JSON does not take',
  'no JSON': 'this is not JSON',
  'no value': 'this is not a value of JSON',
  'comma too many': 'there is a comma too many',
  'more after the end': 'there is more after the end',
  ends: (closing: string) => `the file ends before its ${closing} is there`,
  'no comma': (closing: string) => `a comma or ${closing} is missing before this`,
} as const
