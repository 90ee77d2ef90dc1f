import { catalogue } from '../sentences.js'

const WALK = { topic: 'walk' } as const
const BAD_NUMBER = { ...WALK, code: 'bad-number' } as const
const BAD_LENGTH = { ...WALK, code: 'bad-length' } as const

/** All that is said of numbers and lengths as people write them. */
export const unitsSays = catalogue({
  'no-finite-length': {
    topic: 'program',
    code: 'bad-argument',
    say: (lengthM: number) => `${lengthM} is not a length`,
  },
  'no-number': {
    ...BAD_NUMBER,
    say: (text: string) => `"${text}" is not a number`,
    mend: 'write it with one decimal point',
  },
  'thousands-or-decimals': {
    ...BAD_NUMBER,
    say: (text: string, whole: string, fraction: string) =>
      `"${text}" could be ${whole || '0'}.${fraction} or ${whole}${fraction}`,
    mend: 'write it with a point or without the comma',
  },
  'no-fraction': {
    ...BAD_NUMBER,
    say: (text: string) => `"${text}" is not a fraction of an inch or foot`,
    mend: 'write it like 12 3/4',
  },
  'too-many-digits': { ...BAD_NUMBER, say: (text: string) => `"${text}" has more than 15 digits` },
  'units-disagree': {
    ...WALK,
    means: 'a length written in both systems must be the same length in both',
    say: (one: string, oneM: number, other: string, otherM: number) =>
      `"${one}" is ${sixDigits(oneM)} m and "${other}" is ${sixDigits(otherM)} m, which disagree`,
    mend: 'keep the one that was measured',
  },
  'no-length': {
    ...BAD_LENGTH,
    say: (text: string) => `"${text}" is not a length`,
    mend: 'write one like 16 m or 52 ft',
  },
  'length-of-no-number': {
    ...BAD_LENGTH,
    say: (text: string, why: string) => `"${text}" is not a length: ${why}`,
  },
  'two-lengths': {
    ...BAD_LENGTH,
    say: (text: string) => `"${text}" is two lengths in one`,
    mend: (_text: string, one: string, other: string) => `write each by itself: ${one}, ${other}`,
  },
  'twelve-inches': {
    ...BAD_LENGTH,
    say: (text: string) => `"${text}" has 12 inches or more beside its feet`,
    mend: 'write it in one unit',
  },
  'bare-number': {
    ...WALK,
    means: 'a number without its unit may be metres or feet, so it is refused: write the unit beside it',
    say: (text: string) => `"${text}" has no unit`,
    mend: (text: string, unitMeant: string) =>
      `write ${text} ${unitMeant}${unitMeant === 'm' ? `, or ${text} ft if feet are meant` : ''}`,
  },
  'unknown-unit': {
    ...WALK,
    say: (text: string) => `"${text}" has a unit that is not known`,
    mend: 'lengths take mm, cm, m, ft or in',
  },
  'negative-length': {
    ...WALK,
    say: (text: string) => `"${text}" is negative`,
    mend: 'write it without the minus',
  },
})

function sixDigits(value: number): string {
  return String(Number(value.toPrecision(6)))
}
