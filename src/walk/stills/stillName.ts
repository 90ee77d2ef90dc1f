import { failure, success, type Outcome } from '../../math/outcome.js'
import { LENGTH_AT_START, parseLength } from '../../units/parseLength.js'
import { stillsSays } from './sentences.js'

/** Endings of pictures that are measured, lower case. */
const PICTURE_ENDINGS = ['jpg', 'jpeg', 'png', 'webp', 'tif', 'tiff', 'avif']
const VIDEO_ENDINGS = 'mp4 mov avi mkv m4v mpg mpeg ts mts m2ts wmv webm'.split(' ')
const HEIC_ENDINGS = ['heic', 'heif', 'hif']
const RAW_ENDINGS = ['dng', 'cr2', 'cr3', 'nef', 'arw', 'raf', 'rw2', 'orf', 'pef', 'srw', 'raw']

/** Whether a file is a picture that can be measured, by its ending; where not, why, with the mend. */
export function pictureByEnding(name: string): Outcome<string> {
  const ending = /\.([^.]+)$/.exec(name)?.[1]?.toLowerCase() ?? ''
  if (PICTURE_ENDINGS.includes(ending)) return success(ending)
  if (VIDEO_ENDINGS.includes(ending))
    return failure(stillsSays['is-video'](name, name.slice(0, -ending.length - 1)))
  if (HEIC_ENDINGS.includes(ending)) return failure(stillsSays['is-heic']())
  if (RAW_ENDINGS.includes(ending)) return failure(stillsSays['is-raw']())
  return failure(stillsSays['no-picture'](ending))
}

/**
 * The distance a still's name begins with, metres: `15m.jpg`, `45ft-2.png`, `20 feet.jpg`, `12.5 m b.webp`, `5'6".jpg`,
 * `45 ft (13.72 m).jpg`. Whatever follows is free, except a digit that could belong to the distance (`1m50`,
 * `5ft6`): that is refused, not guessed.
 */
export function distanceInName(name: string): Outcome<number> {
  const stem = name.replace(/\.[^.]*$/, '').trim()
  const written = LENGTH_AT_START.exec(stem)?.[0]
  const ending = name.slice(name.lastIndexOf('.'))
  if (written === undefined)
    return failure(stillsSays['no-distance'](ending, /^\d+(?:[.,]\d+)?/.exec(stem)?.[0]))
  const rest = stem.slice(written.length)
  if (/^\d/.test(rest) || (/(ft|feet|foot|['\u2032\u2019])$/i.test(written) && /^\s*\d/.test(rest))) {
    const clear = `${written.replace(/\s/g, '')}-${rest.trim()}${ending}`
    return failure(stillsSays['distance-unclear'](written, rest, clear))
  }
  const beside = /^\s*\(([^()]*)\)/.exec(rest)
  const isLength = beside !== null && parseLength(beside[1]!).ok
  return parseLength(isLength ? `${written}${beside[0]}` : written)
}
