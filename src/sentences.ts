import { type FailureStatus, type FaultPlace, ProofwalkError } from './errors.js'

/** What `proofwalk help TOPIC` gathers sentences under. */
export const SENTENCE_TOPICS = {
  stills: 'a still and its export',
  picks: 'corners and ends, clicked or fitted',
  chart: 'the printed chart',
  detail: 'sharpness and detail',
  contrast: 'brightness, contrast and noise',
  lens: 'the lens and the data sheet',
  marks: 'marks, ranges and promises',
  compare: 'two walks of one camera',
  walk: 'walk.yaml and the files of a walk',
  page: 'the page',
  usage: 'commands and their options',
  files: 'reading and writing files',
  program: 'numbers and fits, for programs that use the package',
} as const
export type SentenceTopic = keyof typeof SENTENCE_TOPICS

/** One sentence as a room's catalogue holds it. */
export interface Sentence {
  /** The code it is told under, where that is not the entry's own name: several sentences may share one. */
  readonly code?: string
  readonly topic: SentenceTopic
  /** What it means and what to do about it, for `proofwalk help`; left out where the sentence with its mend says all. */
  readonly means?: string
  /** The sentence, without a full stop; of the facts it needs where it states any. */
  readonly say: string | ((...facts: never[]) => string)
  /** What to do about it, as an imperative. */
  readonly mend?: string | ((...facts: never[]) => string)
}

/** A sentence with its facts filled in. */
export interface Said<Code extends string = string> {
  readonly code: Code
  readonly message: string
  readonly mend?: string
}

type FactsOfPart<Part> = Part extends (...facts: infer Facts) => string ? Facts : []
/** The sentence's facts, or its mend's where those go on behind them. */
type FactsOf<Entry extends Sentence> =
  FactsOfPart<Entry['mend']> extends readonly [...FactsOfPart<Entry['say']>, ...unknown[]]
    ? FactsOfPart<Entry['mend']>
    : FactsOfPart<Entry['say']>
type CodeOf<Entry extends Sentence, Name> = Entry extends { readonly code: infer Code extends string }
  ? Code
  : Name & string

/** What a person is told about a sentence by `proofwalk help`, beside the sentence itself. */
export interface AboutSentence {
  readonly topic: SentenceTopic
  readonly toldAs: string
  readonly means: string | null
  readonly mend: string | null
}

/** A room's sentences, each a function of its facts. */
export type Catalogue<Entries extends Readonly<Record<string, Sentence>>> = {
  readonly [Name in keyof Entries]: ((
    ...facts: FactsOf<Entries[Name]>
  ) => Said<CodeOf<Entries[Name], Name>>) & { readonly about: AboutSentence }
}

/** A room's sentences as functions of their facts: all that the room says to a person stands in one file, under its codes. */
export function catalogue<const Entries extends Readonly<Record<string, Sentence>>>(
  entries: Entries,
): Catalogue<Entries> {
  const said = Object.entries(entries).map(([name, sentence]: [string, Sentence]) => {
    const code = sentence.code ?? name
    const filled = (part: Sentence['say'], facts: never[]): string =>
      typeof part === 'string' ? part : part(...facts)
    const tell = (...facts: never[]): Said => ({
      code,
      message: filled(sentence.say, facts),
      ...(sentence.mend === undefined ? {} : { mend: filled(sentence.mend, facts) }),
    })
    const about: AboutSentence = {
      topic: sentence.topic,
      toldAs: code,
      means: sentence.means ?? (typeof sentence.say === 'string' ? sentence.say : null),
      mend: typeof sentence.mend === 'string' ? sentence.mend : null,
    }
    return [name, Object.assign(tell, { about })]
  })
  return Object.fromEntries(said) as Catalogue<Entries>
}

/** A fault of the user's with its place; the sentence's own mend, unless the place gives another. */
export function fault(said: Said, place: FaultPlace = {}, exitStatus: FailureStatus = 2): ProofwalkError {
  const { code, message, mend } = said
  return new ProofwalkError(code, message, mend === undefined ? place : { mend, ...place }, exitStatus)
}

/** A sentence in one line with its mend, as problems and findings carry it. */
export function problem<Code extends string>({
  code,
  message,
  mend,
}: Said<Code>): {
  readonly code: Code
  readonly message: string
} {
  return { code, message: withMend(message, mend ?? null) }
}

/** So many of something, in the singular of one. */
export function countOf(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`
}

/** A reason in one line with what to do about it, where anything is. */
export function withMend(reason: string, mend: string | null): string {
  return mend === null ? reason : `${reason}; ${mend}`
}

/** A phrase as a sentence of its own: a capital first, a full stop last. */
export function asSentence(text: string): string {
  const trimmed = text.trim()
  if (trimmed === '') return ''
  const sentence = capital(trimmed)
  return /[.!?…]$/.test(sentence) ? sentence : `${sentence}.`
}

/** A phrase with a capital first. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
