import type Sharp from 'sharp'

/** How the decoder is set for the whole process. */
export interface DecoderSettings {
  /** Threads one decode may use; 1 where several workers decode at once. */
  readonly threads: number
}

/**
 * Loads the decoder on first use, so that commands which decode nothing do not pay for it, and sets it: no cache (each still
 * is decoded once), and so many threads a decode. Both settings hold for the whole process.
 */
export async function loadSharp(settings: DecoderSettings): Promise<typeof Sharp> {
  const { default: sharp } = await import('sharp')
  sharp.cache(false)
  sharp.concurrency(settings.threads)
  return sharp
}
