import { chartSays } from '../../chart/sentences.js'
import { filesSays } from '../../files/sentences.js'
import { gradeSays } from '../../grade/sentences.js'
import { lensSays } from '../../lens/sentences.js'
import { mathSays } from '../../math/sentences.js'
import { measureSays } from '../../measure/sentences.js'
import { stillSays } from '../../still/sentences.js'
import { unitsSays } from '../../units/sentences.js'
import { pageSays } from '../../page/sentences.js'
import type { AboutSentence, Said } from '../../sentences.js'
import { sheetSays } from '../../sheet/sentences.js'
import { cliSays } from '../sentences.js'

/** A sentence of a catalogue: tells it of its facts, and what it is about. */
export type TellSentence = ((...facts: never[]) => Said) & { readonly about: AboutSentence }

/** The catalogues of all rooms, in the order a still flows through them: `proofwalk help` prints from them, and knows no other sentence. */
export const CATALOGUES: Readonly<Record<string, Readonly<Record<string, TellSentence>>>> = {
  math: mathSays,
  units: unitsSays,
  lens: lensSays,
  files: filesSays,
  still: stillSays,
  chart: chartSays,
  measure: measureSays,
  grade: gradeSays,
  sheet: sheetSays,
  page: pageSays,
  cli: cliSays,
}
