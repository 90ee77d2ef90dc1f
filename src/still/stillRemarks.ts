import type { Metadata } from 'sharp'
import { problem } from '../sentences.js'
import { stillSays } from './sentences.js'

/** Something about how a still is read that the reader should know: a stable code and a sentence. */
export interface StillRemark {
  readonly code: 'still-first-of-several' | 'still-not-opaque' | 'still-converted' | 'still-palette'
  readonly message: string
}

/** The remarks that a picture's head gives rise to. */
export function stillRemarks(head: Metadata): readonly StillRemark[] {
  return [
    ...((head.pages ?? 1) > 1 ? [stillSays['still-first-of-several'](head.pages)] : []),
    ...(head.hasAlpha ? [stillSays['still-not-opaque']()] : []),
    ...(head.space === 'cmyk' ? [stillSays['still-converted']()] : []),
    ...(head.isPalette === true ? [stillSays['still-palette']()] : []),
  ].map(problem)
}
