import type { Orientation } from './turn.js'

/** A picture file in memory with what its head tells: all that decoding a part of it needs. */
export interface PictureSource {
  /** As the user named it, for messages. */
  readonly path: string
  readonly bytes: Buffer
  /** Size as stored, before any turn, px. */
  readonly storedWidth: number
  readonly storedHeight: number
  readonly orientation: Orientation
  /** Samples of more than 8 bits. */
  readonly deep: boolean
  /** The sample at white once decoded: 255, 65535, or a little less where 10 or 12 bits are moved up to 16. */
  readonly fullScale: number
  /** Grey throughout, with no colour profile to heed and no opacity, which a decode to grey would drop. */
  readonly grey: boolean
  /** Threads one decode may use. */
  readonly threads: number
}
