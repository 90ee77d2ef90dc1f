import type { Point } from '../../../math/point.js'
import type {
  BorderSeen,
  MeasureAnswer,
  PagePick,
  ResultsView,
  SheetRequest,
  SnapAnswer,
  StillView,
  WalkView,
} from '../../api.js'
import type { BeginView } from '../../beginApi.js'
import type { ChangeHistory } from './changeHistory.js'

/** What walk.yaml shall say of a still; null: as its name says. */
export interface Assignment {
  readonly mark: string | null
  readonly light: string | null
  readonly reference: string | null
}

/** A point that a person placed, px of the still, and how well: one standard deviation per axis, px. */
export interface Click {
  readonly point: Point
  readonly sigmaPx: number
}

/** What was begun of a reference on a still and is no pick yet: the points placed so far. */
export interface Draft {
  readonly file: string
  /** Of the still the points were placed on. */
  readonly sha256: string
  readonly reference: string
  readonly clicks: readonly Click[]
}

/** Something a person did that can be undone. */
export type Change =
  | {
      readonly kind: 'pick'
      readonly file: string
      readonly before: PagePick | null
      readonly after: PagePick | null
    }
  | {
      readonly kind: 'assign'
      readonly stills: readonly {
        readonly file: string
        readonly before: Assignment
        readonly after: Assignment
      }[]
    }
  /** Stills copied into the walk: not done again once taken back, as the page holds no copy. */
  | { readonly kind: 'drop'; readonly files: readonly string[] }

/** A pick that the server does not hold yet. */
export interface UnsavedPick {
  readonly kind: 'pick'
  readonly file: string
  /** The reference of the pick it replaces, or of its own where there was none. */
  readonly reference: string | null
  readonly pick: PagePick | null
  /** Of the file the points were taken on; null where it was not read then. */
  readonly sha256: string | null
  /** Version of the pick it replaces. */
  readonly was: string | null
  readonly held: Held | null
}

/** Assignments that the server does not hold yet. */
export interface UnsavedAssignment {
  readonly kind: 'assign'
  readonly stills: readonly {
    readonly file: string
    readonly to: Assignment
    readonly was: string | null
  }[]
  readonly addLights: boolean
  readonly held: Held | null
}

export type Unsaved = UnsavedPick | UnsavedAssignment

/** Why a change waits for a word of the person: somebody else changed the same, or it was refused. */
interface Held {
  readonly why: 'conflict' | 'refused'
  readonly message: string
  /** As the others have it now. */
  readonly theirs: readonly StillView[]
}

/** The outline fitted to the edges: asked for, shown, or why there is none. `of`: the points it was asked for. */
interface SnapPreview {
  readonly file: string
  /** Of the still as it was shown when it was asked for. */
  readonly sha256: string
  readonly of: PagePick | Draft
  readonly answer: SnapAnswer | null
}

/** What the server measured on a still with a pick; null while it measures. */
interface DetailAnswer {
  readonly of: PagePick
  readonly answer: MeasureAnswer | null
}

/** A sentence for the person, until it is put away. */
interface Notice {
  readonly id: number
  readonly text: string
}

/** How it stands with the server. */
type Link = 'up' | 'down' | 'shut-out' | 'ended'

/** Points being placed or moved that are no pick yet. */
interface Outline {
  readonly file: string
  readonly points: readonly Point[]
}

/** What is asked before a sheet is written: how it is set, or whether it may show what the one that is there hides. */
export type SheetAsk =
  | { readonly about: 'setting' }
  | { readonly about: 'masked'; readonly setting: SheetRequest; readonly message: string }

/** Stills being copied into the walk, or copied just now. */
export interface Drop {
  /** Files of this copying. */
  readonly all: number
  /** The one being copied; null once all are. */
  readonly name: string | null
  /** How much of it is there, 0 to 1. */
  readonly share: number
  /** Those that came, by their paths in the walk. */
  readonly files: readonly string[]
  readonly refused: readonly { readonly name: string; readonly why: string }[]
}

/** How stills are to be assigned all at once: by the stills before, by the planned marks in order, or to the reference that each one's name says. */
export type Bulk = 'suggested' | 'nearest' | 'farthest' | 'named'

/** A still that was assigned as proposed, what it had before, and in which act, counted. */
interface AssignedSo {
  readonly file: string
  readonly before: Assignment
  readonly act: number
}

/** All that the page knows. Never changed in place. */
export interface PageState {
  readonly walk: WalkView | null
  /** What is asked where there is no walk yet. */
  readonly begin: BeginView | null
  readonly results: ResultsView | null
  readonly link: Link
  readonly room: 'stills' | 'walk'
  /** File of the still that is shown. */
  readonly current: string | null
  /** Files chosen in the strip, the current one among them. */
  readonly chosen: readonly string[]
  readonly unsaved: readonly Unsaved[]
  readonly saving: boolean
  readonly history: ChangeHistory<Change>
  /** Begun, no picks yet. None of them is measured. */
  readonly drafts: readonly Draft[]
  /** By file: the reference that a person turned to, of several in one still. */
  readonly atHand: ReadonlyMap<string, string>
  /** What a hand is moving. */
  readonly moving: Outline | null
  /** Index of the point that arrow keys nudge. */
  readonly point: number | null
  readonly snap: SnapPreview | null
  readonly details: ReadonlyMap<string, DetailAnswer>
  /** The reference of the last pick: offered where a still names none, never taken for it. */
  readonly lastReference: string | null
  /** What is about to be assigned to the chosen stills, shown and not done yet. */
  readonly bulk: Bulk | null
  /** What was assigned as the machine proposed, until a person assigns it otherwise: it looks different, and what was assigned in one act goes back as one. */
  readonly assignedSo: readonly AssignedSo[]
  /** Plates of which the person was asked how their edge is made, and does not know. */
  readonly borderUnknown: readonly string[]
  /** Where a picked still shows how the edge of a plate is made that nobody said: asked once more, with that. */
  readonly borderSeen: BorderSeen | null
  readonly drop: Drop | null
  readonly measuring: boolean
  /** Once written, its file in the walk, and where this page has it. */
  readonly sheet: 'none' | 'writing' | { readonly file: string; readonly address: string }
  readonly sheetAsk: SheetAsk | null
  readonly notices: readonly Notice[]
  readonly keysShown: boolean
}
