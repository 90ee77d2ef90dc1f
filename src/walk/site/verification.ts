import type { Said } from '../../sentences.js'
import { siteSays } from './sentences.js'

/** One thing that was held against another by its hash or its figures. */
export interface VerificationCheck {
  /** A file of the walk, or a part of the sheet. */
  readonly what: string
  /** Null where it was not checked, which is no mismatch. */
  readonly matches: boolean | null
  /** What it was held against, and how it came out. */
  readonly message: string
}

/** A check that came out well. */
export function matching(what: string, { message }: Said): VerificationCheck {
  return { what, matches: true, message }
}

/** A check that did not. */
export function notMatching(what: string, { message }: Said): VerificationCheck {
  return { what, matches: false, message }
}

/** A check that is left to the release that made what is checked. */
export function notChecked(what: string, method: string): VerificationCheck {
  return { what, matches: null, message: siteSays['not-checked'](method).message }
}

/** What was left out on purpose: it is not checked, and that is no mismatch. */
export function leftOut(what: string, { message }: Said): VerificationCheck {
  return { what, matches: null, message }
}
