import { type Outcome, failure, success } from '../../math/outcome.js'
import type { Reference } from '../../measure/reference/reference.js'
import { referenceOfPreset, referencePresets } from '../../measure/reference/referencePresets.js'
import { parseLength } from '../../units/parseLength.js'
import { readSays } from './sentences.js'

/** Half-width of a size nobody gave a tolerance for, metres: this project's convention. */
export const DEFAULT_SIZE_TOLERANCE_M = 0.001

/**
 * Reads a reference as a command takes it: the id of a preset, a size such as `600x400mm` or `2ft x 1ft` (a plain board, width first), or a
 * length such as `2m` (a staff).
 */
export function parseReference(text: string): Outcome<Reference, 'unknown-reference'> {
  const preset = referencePresets.find(({ id }) => id === text.trim())
  if (preset !== undefined) return success(referenceOfPreset(preset, preset.id))

  const sides = /^(.+?)\s*[x\u00d7]\s*(.+)$/i.exec(text.trim())
  if (sides === null) {
    const length = parseLength(text)
    if (length.ok && length.value > 0) {
      return success({
        kind: 'length',
        name: text.trim(),
        lengthM: length.value,
        toleranceM: DEFAULT_SIZE_TOLERANCE_M,
      })
    }
    const presets = referencePresets.map(({ id }) => id)
    return failure(readSays['unknown-reference'](text, presets))
  }
  const unit = /[a-z"']+$/i.exec(sides[2]!.trim())?.[0] ?? ''
  const width = parseLength(/[a-z"']$/i.test(sides[1]!) ? sides[1]! : sides[1]! + unit)
  const height = parseLength(sides[2]!)
  if (!width.ok || !height.ok || width.value <= 0 || height.value <= 0)
    return failure(readSays['no-size'](text))
  return success({
    kind: 'rectangle',
    name: text.trim(),
    widthM: width.value,
    heightM: height.value,
    widthToleranceM: DEFAULT_SIZE_TOLERANCE_M,
    heightToleranceM: DEFAULT_SIZE_TOLERANCE_M,
    marking: 'plain',
  })
}
