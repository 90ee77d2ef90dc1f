import { fault } from '../sentences.js'
import { unitsSays } from './sentences.js'

export type UnitSystem = 'metric' | 'imperial'

/** Metres in a foot, exactly (international yard and pound agreement, 1959). */
export const FOOT_M = 0.3048

/** Metres in an inch, exactly. */
export const INCH_M = 0.0254

/**
 * A length in metres as the tables print it, which `parseLength` reads back: metric in m to the centimetre
 * (`16 m`, `13.72 m`) and below 1 m in mm to a tenth (`485 mm`); imperial in ft to a tenth, below 1 ft in inches.
 * @throws `ProofwalkError` `bad-argument` where the length is not finite
 */
export function formatLength(lengthM: number, system: UnitSystem = 'metric'): string {
  if (!Number.isFinite(lengthM)) throw fault(unitsSays['no-finite-length'](lengthM), {}, 3)
  if (system === 'imperial') {
    const inches = lengthM / INCH_M
    return Math.abs(inches) < 11.95 ? `${rounded(inches, 1)} in` : `${rounded(inches / 12, 1)} ft`
  }
  return Math.abs(lengthM) < 0.99995 ? `${rounded(lengthM * 1000, 1)} mm` : `${rounded(lengthM, 2)} m`
}

function rounded(value: number, decimals: number): string {
  const text = String(Number(value.toFixed(decimals)))
  return text === '-0' ? '0' : text
}
