import { failure, success, type Outcome } from '../../math/outcome.js'
import { parseLength } from '../../units/parseLength.js'

/** Endings of pictures that are measured, lower case. */
const PICTURE_ENDINGS = ['jpg', 'jpeg', 'png', 'webp', 'tif', 'tiff', 'avif']
const VIDEO_ENDINGS = [
  'mp4',
  'mov',
  'avi',
  'mkv',
  'm4v',
  'mpg',
  'mpeg',
  'ts',
  'mts',
  'm2ts',
  'wmv',
  'webm',
  'dav',
]
const HEIC_ENDINGS = ['heic', 'heif', 'hif']
const RAW_ENDINGS = ['dng', 'cr2', 'cr3', 'nef', 'arw', 'raf', 'rw2', 'orf', 'pef', 'srw', 'raw']

/** Whether a file is a picture that can be measured, by its ending; where not, why, with the mend. */
export function pictureByEnding(name: string): Outcome<string> {
  const ending = /\.([^.]+)$/.exec(name)?.[1]?.toLowerCase() ?? ''
  if (PICTURE_ENDINGS.includes(ending)) return success(ending)
  if (VIDEO_ENDINGS.includes(ending)) {
    const stem = name.slice(0, -ending.length - 1)
    return failure(
      'is-video',
      'is a video; export a still at full size from the recorder (no screenshot of it), or take one out with a ' +
        `general converter: ffmpeg -i "${name}" -ss 12 -frames:v 1 "${stem}.png", 12 being the second`,
    )
  }
  if (HEIC_ENDINGS.includes(ending)) {
    return failure('is-heic', 'is HEIC, which is not read; export it as JPEG at full size')
  }
  if (RAW_ENDINGS.includes(ending)) {
    return failure('is-raw', 'is raw sensor data, which is not read; export it as JPEG or TIFF at full size')
  }
  const without = ending === '' ? 'has no ending' : `ends in .${ending}`
  return failure(
    'no-picture',
    `${without}, which is no picture; export a still as JPEG, PNG, WebP, TIFF or AVIF`,
  )
}

const feetInches =
  /^(\d+)\s*(?:'|\u2032|\u2019|ft)\s*(\d+(?:[.,]\d+)?)\s*(?:''|"|\u2033|\u201d|in(?![a-z]))/iu
const oneUnit = /^(\d+(?:[.,]\d+)?)\s*(mm|cm|m|ft|in|'|"|\u2032|\u2033|\u2019|\u201d)(?![a-z\p{L}])/iu

/**
 * The distance a still's name begins with, metres: `15m.jpg`, `45ft-2.png`, `12.5 m b.webp`, `5'6".jpg`,
 * `45 ft (13.72 m).jpg`. Whatever follows is free, except a digit that could belong to the distance (`1m50`,
 * `5ft6`): that is refused, not guessed.
 */
export function distanceInName(name: string): Outcome<number> {
  const stem = name.replace(/\.[^.]*$/, '').trim()
  const written = (feetInches.exec(stem) ?? oneUnit.exec(stem))?.[0]
  if (written === undefined) return failure('no-distance', `tells no distance; ${renameMend(name, stem)}`)
  const rest = stem.slice(written.length)
  if (/^\d/.test(rest) || (/(ft|['\u2032\u2019])$/i.test(written) && /^\s*\d/.test(rest))) {
    const ending = name.slice(name.lastIndexOf('.'))
    const clear = `${written.replace(/\s/g, '')}-${rest.trim()}${ending}`
    const message = `"${written}${rest}" could be read in two ways; rename it to ${clear} if ${written} is meant`
    return failure('distance-unclear', message)
  }
  const beside = /^\s*\(([^()]*)\)/.exec(rest)
  const isLength = beside !== null && parseLength(beside[1]!).ok
  return parseLength(isLength ? `${written}${beside[0]}` : written)
}

function renameMend(name: string, stem: string): string {
  const ending = name.slice(name.lastIndexOf('.'))
  const number = /^\d+(?:[.,]\d+)?/.exec(stem)?.[0]
  if (number === undefined) {
    return `begin its name with the distance, such as 16m${ending} or 52ft${ending}, or name it under stills in walk.yaml`
  }
  return `rename it to ${number}m${ending} or ${number}ft${ending}`
}
