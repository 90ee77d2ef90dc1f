/** A value, or the named reason why there is none: callers must open it before they can use the value. */
export type Outcome<Value, Code extends string = string> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly code: Code; readonly message: string }

/** The outcome that holds a value. */
export function success<Value>(value: Value): { readonly ok: true; readonly value: Value } {
  return { ok: true, value }
}

/** The outcome that holds a reason; `message` is one sentence in the reader's words, without a full stop. */
export function failure<Code extends string>(
  code: Code,
  message: string,
): { readonly ok: false; readonly code: Code; readonly message: string } {
  return { ok: false, code, message }
}
