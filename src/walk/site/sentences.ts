import { DISK_REASONS } from '../../files/sentences.js'
import { catalogue } from '../../sentences.js'

const FILES = { topic: 'files' } as const

/** All that is said of a walk's files as they are held against its results. */
export const siteSays = catalogue({
  'no-results': {
    topic: 'walk',
    say: 'has no results.json to compare its files with',
    mend: (dir: string) => `proofwalk measure ${dir} makes one`,
  },
  'not-checked': { ...FILES, say: (method: string) => `not checked: made by method ${method}` },
  'judged-again': {
    ...FILES,
    say: "judged again from its stills' own entries, its densities, grades and verdicts come out the same",
  },
  'measured-again': { ...FILES, say: 'measured again from the stills, every field comes out the same' },
  'said-otherwise': { ...FILES, say: (how: string) => how },
  'not-judged-again': { ...FILES, say: 'not judged again: first restore the files it was made from' },
  'cannot-be-judged': { ...FILES, say: (why: string) => `cannot be judged again: ${why}` },
  'no-results-text': { ...FILES, say: 'cannot be read as results' },
  'none-as-then': { ...FILES, say: 'there is none, as when it was measured' },
  gone: { ...FILES, say: 'is gone, but the results were measured with one' },
  come: { ...FILES, say: 'is new; the results were measured without one' },
  same: { ...FILES, say: 'is the one used for measuring' },
  changed: { ...FILES, say: 'has changed since the results were measured' },
  'grading-untold': { ...FILES, say: 'cannot be checked: walk.yaml or the file itself cannot be read' },
  'still-same': { ...FILES, say: 'is the still that was measured' },
  'still-unread': {
    ...FILES,
    say: (code: string) =>
      ['ENOENT', 'ENOTDIR', 'not-a-file'].includes(code)
        ? 'is gone, or cannot be read as a file'
        : `cannot be read now: ${DISK_REASONS[code]?.reason ?? code}`,
  },
  'still-changed': { ...FILES, say: 'has changed since it was measured' },
  'still-come': { ...FILES, say: 'is new; the results do not mention it' },
  'other-gone': { ...FILES, say: 'is gone; it was not measured, but it was there' },
  'pick-gone': { ...FILES, say: 'no longer has corners in picks.json' },
  'shown-twice': { ...FILES, say: (what: string) => what },
  'nothing-twice': {
    ...FILES,
    say: (looked: boolean) =>
      looked
        ? 'no picture was found in two of them, and no scene that two cameras show'
        : 'by their hashes, no picture stands in two of them',
  },
  'not-held-between': {
    ...FILES,
    say: 'its stills were not compared with those of the other walks, because its results do not stand',
  },
  'pick-of-other': { ...FILES, say: 'has corners in picks.json that belong to another still' },
})
