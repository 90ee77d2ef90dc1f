/** Why a file is no still that can be measured; one code each. */
export type StillFault =
  | 'still-missing'
  | 'still-link'
  | 'still-not-a-file'
  | 'still-unreadable'
  | 'still-empty'
  | 'still-not-a-picture'
  | 'still-wrong-format'
  | 'still-is-heic'
  | 'still-is-video'
  | 'still-cut-short'
  | 'still-too-large'
  | 'still-damaged'

/** Longest side of a still, px: this project's convention. */
export const LONGEST_SIDE_PX = 30_000

/** Most pixels of a still: this project's convention. */
export const MOST_PIXELS = 400_000_000

/** Largest file read as a still, bytes: this project's convention. */
export const LARGEST_FILE_BYTES = 1_000_000_000
