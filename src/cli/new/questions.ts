import type { NewChoice } from '../../walk/new/newQuestions.js'

/** Asks a person; handed in, so that tests answer without a terminal. Each throws `ProofwalkError` when stopped. */
export interface Questions {
  choose<Value extends string>(
    question: string,
    choices: readonly NewChoice<Value>[],
    /** What Enter alone chooses; the first where it is left out. */
    first?: Value,
  ): Promise<Value>
  /** A line of text, asked again until `fault` finds nothing wrong; the empty line is `ifEmpty`. */
  line(
    question: string,
    options: { ifEmpty: string; fault?: (text: string) => string | null },
  ): Promise<string>
  /** Says something that needs no answer. */
  say(text: string): void
}
