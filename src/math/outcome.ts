import { problem, type Said } from '../sentences.js'

/** A value, or the named reason why there is none: callers must open it before they can use the value. */
export type Outcome<Value, Code extends string = string> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly code: Code; readonly message: string }

/** The outcome that holds a value. */
export function success<Value>(value: Value): { readonly ok: true; readonly value: Value } {
  return { ok: true, value }
}

/** The outcome that holds a reason: a sentence of a room's catalogue, its mend behind it. */
export function failure<Code extends string>(
  said: Said<Code>,
): { readonly ok: false; readonly code: Code; readonly message: string } {
  return { ok: false, ...problem(said) }
}
