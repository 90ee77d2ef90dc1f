import type { MeasuredWith } from '../walk/new/measuredWith.js'
import type { NewChoice } from '../walk/new/newQuestions.js'
import type { Refusal } from './api.js'

/** What is asked to begin a walk, and what may be answered. */
export interface BeginView {
  /** Whole path of the folder that the walk's own is made in; where `folder` is null, of the walk itself. */
  readonly within: string
  /** Its name as proposed. */
  readonly folder: string | null
  readonly carried: readonly NewChoice[]
  readonly plates: readonly NewChoice[]
  readonly papers: readonly NewChoice[]
  readonly tools: Readonly<Record<'metres' | 'feet', readonly NewChoice[]>>
  readonly editions: readonly NewChoice[]
  /** By edition. */
  readonly tasks: Readonly<Record<string, Readonly<Record<'metres' | 'feet', readonly NewChoice[]>>>>
  readonly lights: readonly NewChoice[]
  /** What stands in the fields at first. */
  readonly first: Readonly<
    Record<'metres' | 'feet', Readonly<Record<'board' | 'staff' | 'at' | 'marks', string>>>
  >
  /** Said where what is carried shows no detail and what is wished takes it. */
  readonly takesDetail: string
}

/** The answers, as they would be typed behind the options of `proofwalk new`; an empty text: not said. */
export interface BeginRequest {
  readonly folder: string | null
  readonly site: string
  readonly client: string
  readonly camera: string
  readonly feet: boolean
  readonly carry: readonly string[]
  readonly measuredWith: MeasuredWith
  /** The id of the edition. */
  readonly grading: string
  readonly marks: string
  readonly lights: string
  readonly promise: readonly string[]
}

export interface BeginRefusal extends Refusal {
  /** `field`: a key of `BeginRequest`; empty where it is about none. */
  readonly faults: readonly { readonly field: string; readonly message: string }[]
}
