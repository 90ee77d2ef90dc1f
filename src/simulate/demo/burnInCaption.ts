import type { ByteImage } from '../camera/codeImage.js'
import { strokeDistance, strokeText } from '../walker/strokeFont.js'

/** Where the caption stands and how high its letters are, as shares of the picture's height. */
const LETTER_SHARE = 0.013
const MARGIN_SHARE = 0.012

/** Writes SIMULATED into the lower left corner of a whole picture, light on a dark bar, in place: every still of the demonstration says what it is. */
export function burnInCaption(image: ByteImage): void {
  const letter = image.height * LETTER_SHARE
  const margin = image.height * MARGIN_SHARE
  const text = strokeText('SIMULATED', letter)
  const weight = letter / 14
  const left = Math.round(margin)
  const top = Math.round(image.height - margin - 2 * letter)
  const width = Math.round(text.width + 1.4 * letter)
  for (let y = top; y < top + 2 * letter; y += 1) {
    for (let x = left; x < left + width; x += 1) {
      const off = strokeDistance(text, x + 0.5 - left - 0.7 * letter, y + 0.5 - top - 0.5 * letter)
      const share = Math.max(0, Math.min(1, 0.5 + weight - off))
      for (let channel = 0; channel < image.channels; channel += 1) {
        image.data[(y * image.width + x) * image.channels + channel] = 24 + share * 206
      }
    }
  }
}
