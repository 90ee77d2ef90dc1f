import type { Grading } from '../grade/gradings/grading.js'
import type { WalkPromise } from '../grade/judgement.js'
import type { Ends, Quad } from '../math/point.js'
import type { PickDoubt } from '../measure/reference/pick.js'
import type { Reference } from '../measure/reference/reference.js'
import type { Problem } from '../measure/stillMeasurement.js'
import type { UnitSystem } from '../units/formatLength.js'
import type { SheetSetting } from '../walk/read/walk.js'
import type { StillEntry, WalkResults } from '../walk/schemas/resultsSchema.js'

/**
 * What the page's server and its browser side say to each other; both sides import it, so it imports types alone. Every body is JSON (UTF-8);
 * a POST carries `Content-Type: application/json` and `X-Page: <any id of the page's own, up to 64 letters, digits or ->`, by which events
 * tell the page's own changes from those of others. Points are image coordinates of the still as displayed, px.
 *
 * Every request under /api but `enter` carries the session in `SESSION_HEADER`.
 *
 * Refusals: 400 `BadRequest` (the body is wrong), 401 (no session), 403 (Host or Origin), 404 (no such still), 409 `Conflict`, 413 (body too large),
 * 422 `Refusal` (understood, and cannot be done), 500 `Refusal` (a fault of ours). All but 401 and 403 have a JSON body.
 */
export const ROUTES = {
  /** POST `{ token }` of the address -> `{ session }`, once; else 401. */
  enter: '/api/enter',
  /** GET -> `BeginView` of the walk that is begun here; null where there is one. POST `BeginRequest` -> {}, or 422 `BeginRefusal`. */
  begin: '/api/begin',
  /** GET -> `WalkView`; 404 `no-walk-yet`, as of all below but events and quit, until it is begun. */
  walk: '/api/walk',
  /** GET ?file&stamp[&size=240] -> a picture no larger than `size` px a side. Ask as it comes into view. */
  thumb: '/api/still/thumb',
  /**
   * GET ?file&stamp&level&x&y -> a picture: tile (x, y) of the still halved `level` times (sides rounded up; 0: its own pixels, losslessly),
   * `TILE_SIDE_PX` px a side, less at the right and the lower edge. The first asked of a still decodes it.
   */
  tile: '/api/still/tile',
  /** GET ?file&stamp&reference&points=x1,y1,x2,y2,... -> PNG of the rectangle seen straight on, as the tool sees it. */
  rectified: '/api/still/rectified',
  /** POST `MeasureRequest` -> `MeasureAnswer`. Nothing is saved. */
  measure: '/api/measure',
  /** POST `SnapRequest` -> `SnapAnswer`. Nothing is saved. */
  snap: '/api/snap',
  /** POST `PickRequest` -> `Saved`, or 409 `Conflict`. */
  pick: '/api/pick',
  /** POST `AssignRequest` -> `Saved`, or 409 `Conflict`; all of its changes or none. */
  assign: '/api/assign',
  /** POST `BorderRequest` -> `Saved` without stills, or 409 `Conflict` where walk.yaml says it already. */
  border: '/api/border',
  /** POST `{ reference }` -> `BorderSeen | null`: whether a picked still shows how the edge of a plate is made. Nothing is saved. */
  borderSeen: '/api/border-seen',
  /** GET -> `ResultsView`: the walk judged by all that is measured so far. */
  results: '/api/results',
  /** POST {} -> 202; measures what is not measured yet and writes results.json; events tell how far it is. */
  measureAll: '/api/measure-all',
  /** POST `SheetRequest` -> `SheetWritten`. GET -> the sheet last written, as PDF. */
  sheet: '/api/sheet',
  /** GET -> server-sent events, each named after the `kind` of its `PageEvent`, whose JSON is its data. */
  events: '/api/events',
  /** GET -> `Kept`: what a page was doing when it ended. POST `{ kept: Kept }` keeps it beside the walk. */
  unsaved: '/api/unsaved',
  /**
   * POST ?name, the bytes of a still as its body, `Content-Type: application/octet-stream` -> `StillDropped`: copied into the walk, whole or not at all, never over
   * another. 413 and 422 `Refusal` say why not.
   */
  drop: '/api/drop',
  /** POST `TakeBackRequest` -> `TakenBack`: takes back stills that this server copied. */
  takeBack: '/api/take-back',
  /** POST {} -> 202, then the server ends. */
  quit: '/api/quit',
} as const

/** Carries what `enter` gave, in lower case. */
export const SESSION_HEADER = 'x-session'

/** Side of a tile, px. */
export const TILE_SIDE_PX = 512

/** Largest file that can be dropped, bytes: what is read as a still. */
export const MOST_DROPPED_BYTES = 1_000_000_000

/** The walk as the page shows it. */
export interface WalkView {
  /** Changes whenever anything of this view may have changed. */
  readonly revision: number
  /** Last step of the folder's path. */
  readonly folder: string
  readonly site: string
  readonly date: string | null
  readonly cameraName: string
  /** Whether its stills are simulated, which the page then says. */
  readonly simulated: boolean
  readonly units: UnitSystem
  /** How its sheet is written; null where it was not asked yet. */
  readonly sheet: SheetSetting | null
  readonly judge: 'detail' | 'pixels'
  readonly grading: Grading
  readonly references: readonly ReferenceView[]
  /** Planned marks and those of its stills, nearest first. */
  readonly marks: readonly MarkView[]
  readonly lights: readonly string[]
  readonly promises: readonly WalkPromise[]
  /** In the order of their paths. */
  readonly stills: readonly StillView[]
  /** Files that were dropped into it since the server began: they can be taken back. */
  readonly dropped: readonly string[]
  /** What is wrong with walk.yaml or picks.json as they stand, a line each; the rest is then as it was last sound, and nothing can be saved. */
  readonly faults: readonly string[]
}

export interface MarkView {
  readonly distanceM: number
  /** Line of sight to the reference there: sizes the bend of the lens. */
  readonly lineOfSightM: number
  /** As people write it, and as `AssignChange.mark` takes it: "16 m", "45 ft". */
  readonly text: string
}

export interface ReferenceView {
  readonly name: string
  readonly reference: Reference
  readonly preset: string | null
  /** In words: "520 mm x 110 mm". */
  readonly size: string
}

/**
 * `unassigned`: its mark or light cannot be told. `failed`: it cannot be opened or measured. `chart`: a chart was found in it and nothing is picked. `picked`: it has a
 * pick that holds. `assigned`: everything but its points is known, or only its reference is missing.
 */
export type StillState = 'unassigned' | 'assigned' | 'picked' | 'chart' | 'failed'

export interface StillView {
  /** Path from the walk's folder, with forward slashes. Names the still everywhere. */
  readonly file: string
  /** Changes with the file; stands in the address of its pictures. */
  readonly stamp: string
  readonly state: StillState
  /** Metres and as text; null where neither its name nor walk.yaml tells. */
  readonly mark: MarkView | null
  readonly light: string | null
  /** By its first pick, else the chart found in it, else walk.yaml, else the walk's only one. */
  readonly reference: string | null
  /** What walk.yaml says of it under `stills`; null where it says nothing. */
  readonly entry: AssignedEntry | null
  /** What its own path tells. */
  readonly byName: { readonly mark: MarkView | null; readonly light: string | null }
  /** What its head tells; null until it was read (an event of kind `stills` follows), or where it cannot be. */
  readonly head: StillHead | null
  /** One a reference, in the order of picks.json. */
  readonly picks: readonly PickView[]
  /** A chart being looked for in it, in the background. */
  readonly searching: boolean
  /** The chart found in it, alone or beside what was picked. */
  readonly chart: { readonly reference: string; readonly corners: Quad } | null
  /** Why it is unassigned or failed, with the mend, and whatever else there is to know. */
  readonly problems: readonly Problem[]
}

export interface StillHead {
  readonly sha256: string
  /** As displayed, px. */
  readonly width: number
  readonly height: number
  /** "2026-03-14T21:05:11" by the camera's own clock; null where it does not say. */
  readonly takenAt: string | null
}

export interface AssignedEntry {
  /** As written in walk.yaml. */
  readonly mark: string
  readonly light: string
  readonly reference: string | null
  /** Compare-and-swap: give it back as `was`. */
  readonly version: string
}

/** The image points of a reference with their noise: what picks.json holds. */
export interface PagePick {
  /** Null where the walk has only one. */
  readonly reference: string | null
  readonly corners?: Quad
  readonly ends?: Ends
  readonly method: 'hand' | 'snapped'
  /** Standard deviation per axis, px; 0.5 by hand where it is left out. */
  readonly sigma?: number
  /** px^2, x1, y1, x2, y2 ...: 8x8 for corners, 4x4 for ends. */
  readonly covariance?: readonly (readonly number[])[]
  /** What its fit doubted, with the other outline that may be meant: it stays with the pick. */
  readonly doubts?: readonly PickDoubt[]
}

export interface PickView extends PagePick {
  readonly sigma: number
  /** Compare-and-swap: give it back as `was`. */
  readonly version: string
  /** The still has changed since: the pick is not used. */
  readonly stale: boolean
}

export interface MeasureRequest {
  readonly file: string
  readonly pick: PagePick
}

/** The entry the still would have in `results.json`, and the uncertainty of its points; or why there is none. */
export type MeasureAnswer =
  | { readonly ok: true; readonly entry: StillEntry }
  | { readonly ok: false; readonly code: string; readonly message: string }

export interface SnapRequest {
  readonly file: string
  /** A rectangle of the walk. */
  readonly reference: string
  /** A first outline, each side within a few px of its edge: `SnapAnswer.code` tells where it was too far. */
  readonly corners: Quad
  /** Which of them a person placed; the others are guessed. */
  readonly placed: readonly boolean[]
  /** How well they were placed, px, one standard deviation per axis. */
  readonly clickSigma: number
}

/** The outline fitted to the edges around, or why there is none to be trusted. Show it before it is taken. */
export type SnapAnswer =
  | {
      readonly ok: true
      /** Ready to be saved, method `snapped`. */
      readonly pick: PagePick & {
        readonly corners: Quad
        readonly covariance: readonly (readonly number[])[]
      }
      /** Per axis, the mean over the corners, px. */
      readonly sigmaPx: number
      /** Scatter of the edges about the fitted sides, px. */
      readonly residualPx: number
      /** How far the corner moved that moved most, px. */
      readonly movedPx: number
      /** What it doubts, in words, the gravest first. */
      readonly remarks: readonly Problem[]
    }
  | { readonly ok: false; readonly code: string; readonly message: string }

export interface PickRequest {
  readonly file: string
  /** `version` of the pick this one replaces; null where there was none of its reference. */
  readonly was: string | null
  /** `head.sha256` of the still the points were taken on. */
  readonly sha256: string
  /** Null clears it. */
  readonly pick: PagePick | null
}

export interface AssignRequest {
  readonly changes: readonly AssignChange[]
  /** Lights the walk does not have yet are added to it; otherwise they are refused (`unknown-light`). */
  readonly addLights?: boolean
}

/** The entry a still shall have in walk.yaml. Where all three are null, or tell no more than its name, it has none. */
interface AssignChange {
  readonly file: string
  /** `entry.version` of what this replaces; null where there was none. */
  readonly was: string | null
  /** A length with its unit, "16 m", "52 ft"; null: as the name says. */
  readonly mark: string | null
  /** Null: as the name says. */
  readonly light: string | null
  /** Null: not told. A pick of the still goes with it where its points fit the new reference, else it is refused (`pick-other-kind`). */
  readonly reference: string | null
}

/** A dark border at a plate's rim, as a picked still shows it: a suggestion. */
export interface BorderSeen {
  readonly reference: string
  readonly file: string
  /** As people write it: "3 mm". */
  readonly width: string
  /** Along how many of the four sides it is seen. */
  readonly sides: number
}

/** How the edge of a plate is made, as walk.yaml has it: "none", "rim 3 mm", "inset 4 mm", "rim 3 mm as seen in FILE". */
export interface BorderRequest {
  readonly reference: string
  readonly border: string
}

/** What was saved: the stills as they are now, in the order asked. */
export interface Saved {
  readonly revision: number
  readonly stills: readonly StillView[]
}

/** 409: somebody else changed the same entry meanwhile. Nothing was written; here is what there is now. */
export interface Conflict {
  readonly code: 'conflict'
  readonly message: string
  readonly revision: number
  readonly stills: readonly StillView[]
}

/** 422 and 500, and 400 with the code `bad-request`. */
export interface Refusal {
  readonly code: string
  readonly message: string
  /** The file of the change it is about. */
  readonly file?: string
}

/** What a page is doing and the walk's files do not hold: as the page wrote it, opaque to the server; null: nothing. */
export interface Kept {
  readonly kept: string | null
}

/** Where a still that was dropped lies now: under the folder of its light where its name tells mark and light. */
export interface StillDropped {
  readonly file: string
}

/** Those that could not be taken back, and why: of the others nothing is left. */
export interface TakenBack {
  readonly refused: readonly Refusal[]
}

export interface ResultsView {
  readonly revision: number
  /** Stills measured so far, of so many that can be. */
  readonly done: number
  readonly all: number
  /** Whether results.json holds these. */
  readonly written: boolean
  /** Judged by what is measured so far; null where there is nothing yet. */
  readonly results: WalkResults | null
}

/** Kept in walk.yaml. One that shows what the sheet in its place hides is refused, `sheet-was-masked`, unless `overMasked` says so. */
export interface SheetRequest {
  readonly paper: 'A4' | 'Letter'
  readonly maskPlates: boolean
  readonly maskPeople?: boolean
  readonly overMasked?: boolean
}

export interface SheetWritten {
  /** Path from the walk's folder. */
  readonly file: string
}

/** `by`: the `X-Page` whose change it was; null: another program's, or the server's own. */
export type PageEvent =
  /** First of a connection: compare with the revision at hand. */
  | { readonly kind: 'hello'; readonly revision: number }
  /** The walk changed: ask for it anew. `message`: in words, where it was edited by hand. */
  | {
      readonly kind: 'walk'
      readonly revision: number
      readonly by: string | null
      readonly message: string | null
    }
  /** Views of some stills changed, and nothing else. */
  | {
      readonly kind: 'stills'
      readonly revision: number
      readonly by: string | null
      readonly stills: readonly StillView[]
    }
  /** `/api/results` has more to tell. */
  | { readonly kind: 'results'; readonly done: number; readonly all: number; readonly written: boolean }
  /** Something failed that nobody is waiting for. */
  | { readonly kind: 'fault'; readonly code: string; readonly message: string }
  /** The server ends. */
  | { readonly kind: 'end' }
