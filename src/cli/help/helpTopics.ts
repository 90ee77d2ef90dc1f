import { SENTENCE_TOPICS } from '../../sentences.js'

/** Every topic of `proofwalk help TOPIC` with what it is about: those that sentences are gathered under, and those of texts alone. */
export const HELP_TOPICS: Readonly<Record<string, string>> = {
  ...SENTENCE_TOPICS,
  words: 'the words of tables and sheet, and what they mean',
  strips: 'detail at low contrast, and what noise reduction and codecs hide',
  reading: 'the blind reading trial: letter cards, readers, scores',
  plan: 'what the plan predicts from the data sheet',
  method: 'how it measures, in short, with the sources of its formulas',
  limits: 'what it cannot tell, and the limits that were measured',
  site: 'many cameras, and one sheet of them all',
  verify: 'whether files still belong together',
  sealing: 'what the hash and the signature of a sheet prove',
  codes: 'every code, by topic',
  messages: 'the same as codes',
}
