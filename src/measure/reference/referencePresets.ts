import presetData from './referencePresets.json' with { type: 'json' }
import type { Reference } from './reference.js'

interface PresetOrigin {
  readonly id: string
  readonly name: string
  /** Half-width of what law or custom leaves open, mm, the same for every side. */
  readonly toleranceMm: number
  readonly source: string
  /** `verified`: read in the publication or in a text that quotes it; `two sources`: independent texts agree. */
  readonly status: 'verified' | 'two sources'
  readonly toleranceSource: string
}

/** A thing of known size that many people have at hand, as it is held upright to be read. */
export type ReferencePreset =
  | (PresetOrigin & {
      readonly kind: 'rectangle'
      readonly widthMm: number
      readonly heightMm: number
      readonly marking: 'characters' | 'plain'
    })
  | (PresetOrigin & { readonly kind: 'length'; readonly lengthMm: number })

/** The reference presets, each with its published source. */
export const referencePresets = presetData as readonly ReferencePreset[]

/**
 * The reference a preset stands for, under the name a walk gives it, metres. `toleranceM` replaces the preset's own
 * half-width where somebody measured the thing at hand.
 */
export function referenceOfPreset(preset: ReferencePreset, name: string, toleranceM?: number): Reference {
  const halfWidthM = toleranceM ?? preset.toleranceMm / 1000
  if (preset.kind === 'length') {
    return { kind: 'length', name, lengthM: preset.lengthMm / 1000, toleranceM: halfWidthM }
  }
  return {
    kind: 'rectangle',
    name,
    widthM: preset.widthMm / 1000,
    heightM: preset.heightMm / 1000,
    widthToleranceM: halfWidthM,
    heightToleranceM: halfWidthM,
    marking: preset.marking,
  }
}
