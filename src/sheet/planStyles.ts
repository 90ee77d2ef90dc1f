import { GREY, SIZE_PT, type TextStyle } from './document/typography.js'

/** A plan is read at arm's length, outside: its text is set larger than the sheet's. */
export const OUTSIDE: TextStyle = { sizePt: 10 }
export const OUTSIDE_STRONG: TextStyle = { sizePt: 10, face: 'semibold' }
export const OUTSIDE_NOTE: TextStyle = { sizePt: SIZE_PT.body }
export const OUTSIDE_GREY: TextStyle = { sizePt: SIZE_PT.body, colour: GREY }
