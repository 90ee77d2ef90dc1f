import { catalogue } from '../../sentences.js'

const WALK = { topic: 'walk' } as const
const BAD_VALUE = { ...WALK, code: 'bad-value' } as const
const BAD_PICK = { topic: 'picks', code: 'bad-pick' } as const
const CORRECT_IT = 'correct it or leave it out'

/** All that is said of single fields of walk.yaml, picks.json and grading files. */
export const fieldSays = catalogue({
  empty: { ...BAD_VALUE, say: 'is empty' },
  'text-too-long': { ...WALK, code: 'out-of-bounds', say: 'is longer than 2000 characters' },
  'no-length': {
    ...WALK,
    say: (written: string) => `"${written}" is not a length`,
    mend: (_written: string, example: string) => `it must be above 0, such as ${example}`,
  },
  'too-long': {
    ...WALK,
    say: (written: string) => `"${written}" is far too long to be meant`,
    mend: (_written: string, example: string) => `write for example ${example}`,
  },
  'no-border': {
    ...BAD_VALUE,
    say: (written: string) => `"${written}" is not a border of a plate: write none, rim 3 mm or inset 4 mm`,
  },
  'no-percentage': {
    ...BAD_VALUE,
    say: (written: string, least: number, most: number) =>
      `${JSON.stringify(written)} is not a percentage from ${least} to ${most}`,
    mend: 'write it like "95 %"',
  },
  'no-date': {
    ...BAD_VALUE,
    say: (written: string) => `${JSON.stringify(written)} is not a date of the form YYYY-MM-DD`,
  },
  'path-leaves-walk': { ...WALK, say: (path: string, why: string) => `"${path}" ${why}` },
  'no-sensor': { ...BAD_VALUE, say: (written: string) => `"${written}" is neither an inch type nor a size` },
  'too-large': {
    ...WALK,
    say: (written: string) => `"${written}" is far too large for an imager`,
    mend: 'write 1/1.7, or "7.6 x 4.3 mm"',
  },
  'no-plain-name': {
    ...BAD_VALUE,
    say: (name: string) =>
      `${JSON.stringify(name)} is not a plain name: letters, digits, spaces, points, dashes, at most 60, a letter or digit first`,
  },
  'no-illuminance': { ...BAD_VALUE, say: 'is not an illuminance with its unit, lx or fc' },
  'no-plate-text': {
    ...BAD_VALUE,
    say: 'is not the text of a plate: letters A to Z, digits, spaces and dashes, at most 20',
  },

  'no-grade-id': { ...BAD_VALUE, say: 'is not a lower-case word' },
  'grade-id-reserved': { ...BAD_VALUE, say: 'is reserved for "no grade reached"' },
  'grade-twice': { ...BAD_VALUE, say: (id: string) => `"${id}" is there twice` },
  'limit-not-above': {
    ...BAD_VALUE,
    say: (limit: number, before: number) => `${limit} is not above the ${before} before it`,
    mend: 'put the lowest limit first',
  },

  'no-sha256': {
    ...BAD_VALUE,
    say: 'is not a SHA-256 of 64 digits 0-9 and a-f',
    mend: 'write 64 hexadecimal digits: "proofwalk measure" prints the entry for a still without corners',
  },
  'corners-and-ends': { ...BAD_PICK, say: 'has both corners and ends', mend: 'keep one' },
  'no-points': {
    ...BAD_PICK,
    say: 'has neither corners nor ends',
    mend: 'give its four corners, or the two ends of a length',
  },
  'pick-unnamed': { ...BAD_PICK, say: 'is missing beside other picks', mend: 'name the reference of each' },
  'picked-twice': {
    ...BAD_PICK,
    say: (reference: string) => `"${reference}" is picked twice on this still`,
    mend: 'keep one',
  },
  'covariance-size': {
    ...BAD_PICK,
    say: (size: number) => `must be ${size} rows of ${size}`,
    mend: CORRECT_IT,
  },
  'covariance-skew': { ...BAD_PICK, say: 'is not symmetric', mend: CORRECT_IT },
  'covariance-negative': {
    ...BAD_PICK,
    say: 'is not a covariance: it has a negative variance in some direction',
    mend: CORRECT_IT,
  },
})

/** Why a path cannot be one inside the walk's folder. */
export const PATH_FAULTS = {
  empty: 'is empty',
  character: 'holds a character no file name may hold',
  backslashes: 'is written with backslashes; use forward slashes',
  absolute: "must start from the walk's folder",
  upward: "leaves the walk's folder",
} as const
