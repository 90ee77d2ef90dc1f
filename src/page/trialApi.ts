/**
 * What the server of the reading trial and its page say to each other, as api.ts does for the walk's page. Nothing that a reader must not know is in it: a crop is asked for
 * by a name drawn by chance for this one showing.
 */
export const TRIAL_ROUTES = {
  /** POST `{ reader }` -> `TrialView`: what this reader is to be shown next. */
  next: '/api/trial/next',
  /** GET ?showing -> PNG. */
  crop: '/api/trial/crop',
  /** POST `TrialAnswer` -> `TrialAnswered`, or 422 where the showing is over. */
  answer: '/api/trial/answer',
  /** POST {} -> 202, then the server ends. */
  quit: '/api/quit',
} as const

/** What is shown next; `showing` is null where all is read. */
export interface TrialView {
  readonly showing: string | null
  readonly letters: number
  readonly practice: boolean
  /** Crops answered by this reader, and all there are to answer, practice left out. */
  readonly done: number
  readonly all: number
}

export interface TrialAnswer {
  readonly showing: string
  /** Null for "cannot tell"; ? for a character not told. */
  readonly answered: string | null
  readonly seconds: number
  readonly zoom: number
  readonly brightness: number
}

/** What a practice crop said; null for all others. */
export interface TrialAnswered {
  readonly said: string | null
}
