import { gradeSays } from '../../grade/sentences.js'
import { pageSays } from '../../page/sentences.js'
import type { AboutSentence, Said } from '../../sentences.js'
import { sheetSays } from '../../sheet/sentences.js'
import { cliSays } from '../sentences.js'

/** A sentence of a catalogue: tells it of its facts, and what it is about. */
export type TellSentence = ((...facts: never[]) => Said) & { readonly about: AboutSentence }

/** The catalogues of all rooms, in the order a still flows through them: `proofwalk help` prints from them, and knows no other sentence. */
export const CATALOGUES: Readonly<Record<string, Readonly<Record<string, TellSentence>>>> = {
  grade: gradeSays,
  sheet: sheetSays,
  page: pageSays,
  cli: cliSays,
}
