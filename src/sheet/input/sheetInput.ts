import type { WalkComparison } from '../../grade/compare/comparison.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { PixelRegion } from '../../still/raster.js'

/** A picture cut out of a still, as JPEG or PNG without alpha and without any EXIF. */
export interface SheetCrop {
  /** The entry of `results.stills` it shows. */
  readonly file: string
  readonly reference: string
  readonly image: Uint8Array
  /** Which pixels of the still as displayed the picture shows; the picture may have been scaled since. */
  readonly region: PixelRegion
}

/** The walk's own files as they lie in its folder, byte for byte; its walk.yaml without comments. */
interface SheetAttachments {
  readonly results: Uint8Array
  readonly walk: Uint8Array | null
  readonly picks: Uint8Array | null
}

/** What readers were shown at a mark, and what they read of it. */
export interface ReadPicture {
  readonly light: string
  readonly reference: string
  readonly row: 'full' | 'faint' | 'text'
  /** As taped, metres. */
  readonly distance: number
  readonly shown: string
  readonly answers: readonly { readonly reader: string; readonly answered: string | null }[]
  /** PNG, pixel by pixel; null where the sheet masks it. */
  readonly image: Uint8Array | null
}

/** Everything an acceptance sheet is made of. */
export interface SheetInput {
  readonly results: WalkResults
  readonly crops: readonly SheetCrop[]
  readonly attachments: SheetAttachments
  readonly paper: PaperName
  /** Blurs the references' surface in the pictures. */
  readonly maskPlates: boolean
  /** Blurs all but the references' surface in the pictures. */
  readonly maskPeople?: boolean
  /** Which of the walk's files are attached; all unless said. */
  readonly attach?: SheetAttach
  /** Pictures of the reading trial; none unless given. */
  readonly read?: readonly ReadPicture[]
  /** The issuer's logo, PNG or JPEG. */
  readonly logo?: Uint8Array
  /** Says SIMULATED on every page and under every picture; a walk that says so itself does the same. */
  readonly simulated?: boolean
}

/** Which of the walk's files are attached: results, walk and picks; the results alone; none. */
export type SheetAttach = 'all' | 'results' | 'none'

export type PaperName = 'A4' | 'Letter'

/** Two walks' results and what holding them against each other gave. */
export interface ComparisonInput {
  readonly before: WalkResults
  readonly after: WalkResults
  readonly comparison: WalkComparison
  /** Null where no light has two stills that may be shown. */
  readonly pictures: ComparedPictures | null
  readonly paper: PaperName
}

/** One still of a light before and one after, as JPEG, what was measured on them blurred; height over width of the pictures. */
export interface ComparedPictures {
  readonly light: string
  /** As taped, before and after. */
  readonly marksM: readonly [number, number]
  readonly wholes: readonly [Uint8Array, Uint8Array]
  readonly aspect: number
  /** What lies to the left of a seam before, and to the right of it after, at the same pixels; null where it could not be cut. */
  readonly seam: { readonly left: Uint8Array; readonly right: Uint8Array; readonly aspect: number } | null
}
