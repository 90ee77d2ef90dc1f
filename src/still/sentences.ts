import { DISK_REASONS } from '../files/sentences.js'
import { catalogue } from '../sentences.js'

const STILLS = { topic: 'stills' } as const
const AGAIN = { ...STILLS, mend: 'export the still again' } as const
const NOT_A_FILE = { ...STILLS, code: 'still-not-a-file', mend: 'put a picture file there' } as const
const UNREADABLE = { ...STILLS, code: 'still-unreadable' } as const
const WRONG_FORMAT = { ...STILLS, code: 'still-wrong-format' } as const
const TOO_LARGE = {
  ...STILLS,
  code: 'still-too-large',
  means: 'the picture has too many pixels, or the file too many bytes, to be read',
  mend: 'export a single still',
} as const
const DAMAGED = { ...STILLS, code: 'still-damaged' } as const

/** All that is said of a still file: why it cannot be measured, and how it was read. */
export const stillSays = catalogue({
  'still-missing': { ...STILLS, say: 'there is no such file', mend: 'check its name' },
  'still-link': { ...STILLS, say: 'it is a link', mend: 'put the still itself there' },
  'still-not-a-file': {
    ...NOT_A_FILE,
    means: 'a folder, a pipe or a device stands where a still should',
    say: (kind: string) => `it is a ${kind}`,
  },
  'still-not-regular': { ...NOT_A_FILE, say: 'it is not a regular file' },
  'still-not-allowed': {
    ...UNREADABLE,
    say: 'it may not be read',
    mend: 'give yourself the right to read it',
  },
  'still-unreadable': {
    ...UNREADABLE,
    say: (code: string) => `it could not be read: ${DISK_REASONS[code]?.reason ?? code}`,
    mend: (code: string) => DISK_REASONS[code]?.mend ?? 'copy it here again',
  },
  'still-empty': { ...AGAIN, say: 'the file is empty' },
  'still-not-a-picture': {
    ...STILLS,
    say: 'it is not a picture, whatever its name says',
    mend: 'export the still as JPEG or PNG',
  },
  'still-other-format': {
    ...WRONG_FORMAT,
    means: 'it is a picture of a format that is not read',
    say: (format: string) => `it is ${format}`,
    mend: 'export the still as JPEG, PNG, WebP, TIFF or AVIF',
  },
  'still-other-samples': {
    ...WRONG_FORMAT,
    say: (depth: string | undefined) => `its samples are of type ${depth}`,
    mend: 'export the still with 8 or 16 bits',
  },
  'still-is-heic': {
    ...STILLS,
    say: 'it is a HEIC picture',
    mend: 'save it as JPEG at full size, or convert it: magick still.heic still.png',
  },
  'still-is-video': {
    ...STILLS,
    say: 'it is a video',
    mend: 'export a still at full size from the recorder, or take one from the clip: ffmpeg -ss 12 -i clip.mp4 -frames:v 1 still.png',
  },
  'still-cut-short': {
    ...STILLS,
    say: 'the file is cut short: its end is missing',
    mend: 'copy or export the still again',
  },
  'still-too-large': {
    ...TOO_LARGE,
    say: (width: number, height: number, longestSidePx: number, mostPixels: number) =>
      `it has ${width} x ${height} px; at most ${longestSidePx} px a side and ${mostPixels / 1e6} million px are read`,
  },
  'still-too-long': {
    ...TOO_LARGE,
    say: (bytes: number, mostBytes: number) =>
      `the file has ${Math.round(bytes / 1e6)} MB; at most ${mostBytes / 1e6} MB are read`,
  },
  'still-head-damaged': {
    ...AGAIN,
    code: 'still-damaged',
    say: 'the head of the picture is damaged',
  },
  'still-damaged': {
    ...DAMAGED,
    means:
      'the file is complete, but its picture cannot be decoded to the end. Export the still again, and copy it another way if this happens again',
    say: (reason: string) => `the picture is damaged inside (${reason}): export the still again`,
  },
  'still-data-jump': {
    ...DAMAGED,
    means:
      'from the middle of one row on, the whole rest of the picture is brighter, darker or of another colour. Data of the file were changed. Export the still again',
    say: (topPx: number) =>
      `the picture is damaged inside (its light jumps in the middle of row ${topPx}): export the still again`,
  },
  'still-undecodable': {
    ...DAMAGED,
    say: (reason: string) => `the picture cannot be decoded (${reason}): export it again`,
  },
  'still-rows-missing': {
    ...DAMAGED,
    say: (rows: number) =>
      `${rows} ${rows === 1 ? 'row' : 'rows'} of pixels across the reference are wholly black, so data are missing: export the still again`,
  },
  'region-outside': {
    topic: 'program',
    say: (region: Region, width: number, height: number) =>
      `the region ${region.left},${region.top} ${region.width} x ${region.height} holds no pixel of a still of ${width} x ${height}`,
  },

  'still-first-of-several': {
    ...STILLS,
    means: 'only the first picture of a file is measured: export a single still',
    say: (pages: number | undefined) => `the file holds ${pages} pictures, and the first is measured`,
  },
  'still-not-opaque': {
    ...STILLS,
    means:
      'cameras do not write transparency, so the still went through a picture editor: use the export itself',
    say: 'the picture has transparency, so it was edited. Transparent parts are laid over white',
  },
  'still-converted': {
    ...STILLS,
    means: 'cameras do not write print colours, so the still was converted: use the export itself',
    say: 'the colours are those of print (CMYK), so it was edited. They are converted to sRGB, which shifts its tones',
  },
  'still-palette': {
    ...STILLS,
    say: 'the file has at most 256 colours, so shades may come in steps and edges may look sharper than they were',
    mend: 'export the still at full colour',
  },
})

type Region = Readonly<{ left: number; top: number; width: number; height: number }>
