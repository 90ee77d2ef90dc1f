import { catalogue } from '../../sentences.js'

/** What was read, in words. */
export const ROW_WORDS = {
  full: 'black letters',
  faint: 'grey letters',
  text: 'plate (its text is known to the walker)',
} as const

const WALK = { topic: 'walk' } as const

/** All that is said of the reading trial and its files. */
export const trialSays = catalogue({
  'no-cards': {
    ...WALK,
    say: 'is not there: it says what the letter cards say',
    mend: 'copy the cards.json that "proofwalk chart --letters" wrote into the walk',
  },
  'bad-cards': {
    ...WALK,
    say: 'is not what "proofwalk chart --letters" writes',
    mend: 'copy it into the walk again, unchanged',
  },
  'cards-other-paper': {
    ...WALK,
    say: (cards: string, walk: string) => `has cards of ${cards}, and walk.yaml says ${walk}`,
    mend: (cards: string, _walk: string) => `write chart: ${cards} beside letters`,
  },
  'bad-readings': {
    ...WALK,
    say: 'is not the readings.json of a reading trial',
    mend: 'put the one that "proofwalk read" wrote back, or move it away to begin again',
  },
  'bad-pack': {
    ...WALK,
    say: 'is not the file of a reading trial',
    mend: 'name the file that "proofwalk read DIR --pack FILE" wrote',
  },
  'pack-altered': {
    ...WALK,
    say: (crops: number) =>
      `${crops === 1 ? 'a crop in it is' : `${crops} crops in it are`} not those of this walk, so nothing of it is taken`,
    mend: 'merge it into the walk it was packed from, with its stills as they were, or pack it again',
  },
  'nothing-to-read': {
    ...WALK,
    say: 'has nothing to read in its stills',
    mend: 'carry letter cards under the chart (card: { letters: cards.json }). Or write the text of a plate: { preset: plate-eu, text: AB12 CDE }',
  },
  'card-not-told': {
    ...WALK,
    say: (file: string) => `${file}: the code under its letters cannot be read, so it is not shown`,
  },
  'card-cut': { ...WALK, say: (file: string) => `${file}: its letters are not wholly in the still` },
  'reader-told-nothing': {
    topic: 'marks',
    say: (reader: string) =>
      `${reader} answered "cannot tell" to every crop; these count as any other answer`,
  },
  'reader-stopped': {
    topic: 'marks',
    say: (reader: string, crops: number, all: number) =>
      `${reader} has read ${crops} of the ${all} crops that others read`,
    mend: 'let them go on: "proofwalk read" takes the trial up where it was left',
  },
  'cards-mixed-up': {
    topic: 'marks',
    means:
      'readers who read the same wrong characters have read something. The cards in the stills are probably not those of cards.json',
    say: (what: string, agreement: string, right: string) =>
      `${what}: readers agree on ${agreement} of characters, but only ${right} match what the card or plate should say`,
    mend: 'check that cards.json is the file of these cards, or the text of the plate in walk.yaml',
  },
  'reading-one-reader': {
    topic: 'marks',
    code: 'reading-distance-unknown',
    means: 'where reading fails needs two readers and two cards at least, at marks on both sides of it',
    say: (what: string) => `${what}: one reader alone says nothing of others, so no distance is known`,
    mend: 'let others read too',
  },
  'reading-one-mark': {
    topic: 'marks',
    code: 'reading-distance-unknown',
    say: (what: string) => `${what}: read at one mark alone, so no distance is known`,
    mend: 'take stills with the cards at more marks',
  },
  'reading-all-right': {
    topic: 'marks',
    code: 'reading-distance-unknown',
    say: (what: string, farthest: string) =>
      `${what}: read as far out as ${farthest}, the farthest mark, so where it fails is not known`,
    mend: 'take stills farther out',
  },
  'reading-never': {
    topic: 'marks',
    code: 'reading-distance-unknown',
    say: (what: string, nearest: string) => `${what}: not read to 95 % even at ${nearest}, the nearest mark`,
    mend: 'take stills nearer',
  },
  'reading-untold': {
    topic: 'marks',
    code: 'reading-distance-unknown',
    say: (what: string) => `${what}: the answers do not show where 95 % are read`,
    mend: 'let more readers read, more cards',
  },
  'still-changed-since': {
    ...WALK,
    say: (file: string) => `${file} has changed since it was measured`,
    mend: 'measure again',
  },
})
