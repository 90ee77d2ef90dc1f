/** Codes from here on are at white, and up to here at black: JPEG moves a clipped area by a code value or two. */
export const WHITE_CODE = 253

export const BLACK_CODE = 2
