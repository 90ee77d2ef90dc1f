import { CHART_PAPERS } from '../../chart/printed/chartPapers.js'
import { mendByNearest, suggestNearest } from '../../files/suggestNearest.js'
import { catalogue } from '../../sentences.js'

const WALK = { topic: 'walk' } as const
const BAD_POINTS = { topic: 'picks', code: 'bad-points' } as const

/** Every paper the chart is made for, to choose from. */
export const PAPER_MEND = `use one of ${CHART_PAPERS.map(({ id }) => id).join(', ')}`

/** All that is said of reading walk.yaml, picks.json, grading files and what a command names beside them. */
export const readSays = catalogue({
  'no-walk': {
    ...WALK,
    say: 'has no walk.yaml',
    mend: (dir: string, around: string | null) =>
      around === null
        ? `proofwalk new ${dir} makes one`
        : `the walk is ${around}: proofwalk measure ${around}`,
  },
  'no-folder': {
    ...WALK,
    say: 'is not there',
    mend: (dir: string) => `proofwalk new ${dir} makes a walk there`,
  },
  'not-a-folder': { ...WALK, say: 'is not a folder', mend: 'name the folder that holds walk.yaml' },

  'unknown-grading': {
    ...WALK,
    say: (id: string) => `"${id}" is not a built-in grading`,
    mend: (id: string, known: readonly string[]) =>
      nearestOr(id, known, `use ${known.join(' or ')}, or the path of a grading file`),
  },
  'grading-not-own': {
    ...WALK,
    say: (name: string, _id: string) => `has the id or name of ${name}, which is built in`,
    mend: (_name: string, id: string) =>
      `give a grading of your own its own id and name, or write grading: ${id} in walk.yaml`,
  },
  'path-leaves-walk': {
    ...WALK,
    say: (path: string, why: string) => `"${path}" ${why}`,
    mend: "copy the grading file into the walk's folder",
  },
  'no-grading-file': {
    ...WALK,
    say: (path: string) => `"${path}" is not there`,
    mend: 'put the grading file there, or use an id of list gradings',
  },
  'bad-json': {
    topic: 'picks',
    say: (why: string, _isUnfilled: boolean) => `is not valid JSON: ${why}`,
    mend: (_why: string, isUnfilled: boolean) =>
      isUnfilled ? 'replace every x,y with the numbers' : 'mind the commas, the brackets and the quotes',
  },

  'unknown-paper': { ...WALK, say: (id: string) => `there is no chart for paper "${id}"`, mend: PAPER_MEND },
  'chart-width': {
    ...WALK,
    say: (percent: number, paper: string, widthMm: string) =>
      `is ${percent} % of the ${paper} chart's ${widthMm} mm, which no printer does`,
    mend: "measure the outer width of the black frame, not the sheet's",
  },
  'unknown-preset': {
    ...WALK,
    say: (id: string) => `"${id}" is not a preset`,
    mend: (id: string, known: readonly string[]) => nearestOr(id, known, 'list references shows them all'),
  },
  'ground-needs': {
    ...WALK,
    code: 'missing',
    say: (what: string) =>
      `is missing: it turns distances along the ground into lines of sight, with ${what}`,
    mend: (_what: string, example: string) =>
      `write for example ${example}, or measure from the camera and delete from: ground`,
  },
  'begins-too-far': {
    ...WALK,
    means:
      'distance.begins is how far in front of the lens the tape measure starts (below 0: behind it). It is added to every measured distance, so half a distance is too much',
    say: 'the tape measure starts half of the nearest distance or more from the lens',
    mend: 'check sign and unit of distance.begins, or measure from the lens and delete it',
  },
  'unknown-grade': {
    ...WALK,
    say: (grade: string, grading: string) => `"${grade}" is not a grade of ${grading}`,
    mend: (grade: string, _grading: string, known: readonly string[]) => mendByNearest(grade, known),
  },
  'unknown-light': {
    ...WALK,
    say: (light: string) => `"${light}" is not one of the lights`,
    mend: (_light: string, lights: readonly string[], meant: LightMeant | null) =>
      meant === null
        ? `add it to lights, or use ${lights.join(' or ')}`
        : `did you mean ${meant.near}?${meant.isNew ? ' add that to lights as well' : ''}`,
  },
  'unnamed-reference': {
    ...WALK,
    code: 'unknown-reference',
    say: (name: string) => `"${name}" is not under references`,
    mend: mendByNearest,
  },
  'duplicate-light': { ...WALK, say: (light: string) => `"${light}" is there twice`, mend: 'delete one' },
  'duplicate-mark': {
    ...WALK,
    say: 'is the same as a mark before it (within 0.01 m or 0.4 in)',
    mend: 'delete or correct it',
  },
  'duplicate-still': { ...WALK, say: 'is named twice', mend: 'keep one of the two' },
  'same-as-itself': { ...WALK, say: 'is the still itself', mend: 'name another, or delete it' },

  'unknown-reference': {
    topic: 'usage',
    say: (text: string) => `"${text}" is neither a preset nor a size`,
    mend: (text: string, presets: readonly string[]) =>
      nearestOr(
        text.trim(),
        presets,
        'write its size, such as 600x400mm, or a preset, such as plate-eu ("proofwalk list references" shows all)',
      ),
  },
  'no-size': {
    topic: 'usage',
    code: 'unknown-reference',
    say: (text: string) => `"${text}" is not a size`,
    mend: 'write it like 600x400mm',
  },
  'no-point': { ...BAD_POINTS, say: (word: string) => `"${word}" is not a point of the form x,y` },
  'point-too-far': {
    ...BAD_POINTS,
    say: (word: string) => `"${word.slice(0, 40)}" is too large to be in a still`,
  },
  'points-missing': {
    ...BAD_POINTS,
    say: (came: number, needed: number) => `${came} points came, ${needed} are needed`,
  },

  'pick-changed': { topic: 'page', code: 'conflict', say: 'the pick was changed elsewhere in the meantime' },
  'entry-changed': {
    topic: 'page',
    code: 'conflict',
    say: (file: string) => `${file}: its entry was changed elsewhere in the meantime`,
  },
  'border-told': {
    topic: 'page',
    code: 'conflict',
    say: (reference: string) =>
      `walk.yaml says by now how the edge of ${reference} is made, or no longer has it`,
  },
})

/** The light likely meant by an unknown one, and whether it too is new to the walk. */
export interface LightMeant {
  readonly near: string
  readonly isNew: boolean
}

function nearestOr(word: string, known: readonly string[], orElse: string): string {
  const near = suggestNearest(word, known)
  return near === null ? orElse : `did you mean ${near}?`
}
