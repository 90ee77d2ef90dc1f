/** One thing that was held against another by its hash or its figures. */
export interface VerificationCheck {
  /** A file of the walk, or a part of the sheet. */
  readonly what: string
  readonly matches: boolean
  /** What it was held against, and how it came out. */
  readonly message: string
}

/** A check that came out well. */
export function matching(what: string, message: string): VerificationCheck {
  return { what, matches: true, message }
}

/** A check that did not. */
export function notMatching(what: string, message: string): VerificationCheck {
  return { what, matches: false, message }
}
