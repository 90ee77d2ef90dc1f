import { createRequire } from 'node:module'

/** One typeface in two weights and an italic, five sizes, black and one grey: all of the sheet's typography. */

export type Face = 'regular' | 'semibold' | 'italic'

/** Sizes in points. */
export const SIZE_PT = { title: 23, lead: 12.5, body: 9, small: 7.7, tiny: 6.4 } as const

/** Line height over font size. */
export const LEADING = 1.32

export const INK = '#131313'
export const GREY = '#646464'
export const PAPER_WHITE = '#ffffff'

/** Line widths in points. */
export const LINE_PT = { hair: 0.3, rule: 0.8, frame: 1.3 } as const

export interface TextStyle {
  readonly face?: Face
  readonly sizePt?: number
  readonly colour?: string
  /** Extra space between letters, points. */
  readonly trackingPt?: number
}

export const TITLE: TextStyle = { sizePt: SIZE_PT.title, face: 'semibold' }
export const LEAD: TextStyle = { sizePt: SIZE_PT.lead }
export const LEAD_STRONG: TextStyle = { sizePt: SIZE_PT.lead, face: 'semibold' }
export const BODY: TextStyle = { sizePt: SIZE_PT.body }
export const BODY_STRONG: TextStyle = { sizePt: SIZE_PT.body, face: 'semibold' }
export const SMALL: TextStyle = { sizePt: SIZE_PT.small }
export const SMALL_STRONG: TextStyle = { sizePt: SIZE_PT.small, face: 'semibold' }
export const SMALL_GREY: TextStyle = { sizePt: SIZE_PT.small, colour: GREY }
export const TINY_GREY: TextStyle = { sizePt: SIZE_PT.tiny, colour: GREY }

const FILES: Readonly<Record<Face, string>> = {
  regular: '400Regular/SourceSans3_400Regular.ttf',
  semibold: '600SemiBold/SourceSans3_600SemiBold.ttf',
  italic: '400Regular_Italic/SourceSans3_400Regular_Italic.ttf',
}

/** The path of a face's font file (Source Sans 3, SIL Open Font License). */
export function fontPath(face: Face): string {
  return createRequire(import.meta.url).resolve(`@expo-google-fonts/source-sans-3/${FILES[face]}`)
}
