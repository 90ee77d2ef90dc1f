import { fault } from '../../sentences.js'
import { sheetSays } from '../sentences.js'
import { loadSharp } from '../../still/loadSharp.js'

/** Longest side of an embedded logo, px: sharp in print at its size on the page. */
const LONGEST_SIDE_PX = 640

/**
 * A logo as the sheet embeds it: a PNG on white without transparency, metadata and profile, no larger than print needs.
 * @throws `ProofwalkError` `logo-unreadable` where the bytes are no picture
 */
export async function flatLogo(bytes: Uint8Array): Promise<Uint8Array> {
  const sharp = await loadSharp({ threads: 1 })
  try {
    return await sharp(bytes)
      .autoOrient()
      .resize({ width: LONGEST_SIDE_PX, height: LONGEST_SIDE_PX, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .toColourspace('srgb')
      .png({ compressionLevel: 9 })
      .toBuffer()
  } catch {
    throw fault(sheetSays['logo-unreadable'](), { field: 'issuer.logo' })
  }
}
