import { power } from '../../math/power.js'

/**
 * sRGB encoding of linear light (IEC 61966-2-1), code values on the scale 0..255; goes on past white (1), for the camera's clipping comes after its
 * noise. Written out here a second time on purpose: the simulated camera is a witness, and shares no curve with what it is a witness against.
 */
export function encodeSrgb(linear: number): number {
  return 255 * (linear <= 0.0031308 ? 12.92 * linear : 1.055 * power(linear, 1 / 2.4) - 0.055)
}

/** Entries of the table per unit of the square root of light, in which the curve is nearly straight. */
const TABLE_SCALE = 4096
/** Past this light the table ends; everything beyond it is far past white. */
const TABLE_END = 4

/** The encoding as a function that looks it up: within 0.002 DN of `encodeSrgb`, several times faster. */
export function srgbEncoder(): (linear: number) => number {
  const table = new Float64Array(Math.sqrt(TABLE_END) * TABLE_SCALE + 2)
  for (let index = 0; index < table.length; index += 1) table[index] = encodeSrgb((index / TABLE_SCALE) ** 2)
  return (linear) => {
    const at = Math.sqrt(Math.min(TABLE_END, Math.max(0, linear))) * TABLE_SCALE
    const index = Math.floor(at)
    return table[index]! + (table[index + 1]! - table[index]!) * (at - index)
  }
}
