import { measuringSays } from '../../walk/measure/sentences.js'
import { newSays } from '../../walk/new/sentences.js'
import { planSays } from '../../walk/plan/sentences.js'
import { readSays } from '../../walk/read/sentences.js'
import { fieldSays } from '../../walk/schemas/sentences.js'
import { trialSays } from '../../walk/trial/sentences.js'
import { siteSays } from '../../walk/site/sentences.js'
import { stillsSays } from '../../walk/stills/sentences.js'
import { simulateSays } from '../../simulate/sentences.js'
import { chartSays } from '../../chart/sentences.js'
import { filesSays } from '../../files/sentences.js'
import { compareSays } from '../../grade/compare/sentences.js'
import { sceneSays } from '../../grade/scene/sentences.js'
import { courtSays } from '../../grade/court/sentences.js'
import { gradeSays } from '../../grade/sentences.js'
import { lensSays } from '../../lens/sentences.js'
import { mathSays } from '../../math/sentences.js'
import { measureSays } from '../../measure/sentences.js'
import { stripSays } from '../../measure/strip/sentences.js'
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
  'measure/strip': stripSays,
  grade: gradeSays,
  'grade/scene': sceneSays,
  'grade/court': courtSays,
  'grade/compare': compareSays,
  'walk/schemas': fieldSays,
  'walk/read': readSays,
  'walk/new': newSays,
  'walk/stills': stillsSays,
  'walk/measure': measuringSays,
  'walk/trial': trialSays,
  'walk/site': siteSays,
  'walk/plan': planSays,
  sheet: sheetSays,
  page: pageSays,
  simulate: simulateSays,
  cli: cliSays,
}
