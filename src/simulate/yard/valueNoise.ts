/** Smooth noise over the plane in 0..1, the same on every machine: whole-numbered lattice values from an integer mix, blended by a cubic. */
function valueNoise(x: number, y: number, salt: number): number {
  const column = Math.floor(x)
  const row = Math.floor(y)
  const s = smooth(x - column)
  const t = smooth(y - row)
  const top = lattice(column, row, salt) * (1 - s) + lattice(column + 1, row, salt) * s
  const bottom = lattice(column, row + 1, salt) * (1 - s) + lattice(column + 1, row + 1, salt) * s
  return top * (1 - t) + bottom * t
}

/** Noise summed over octaves, each twice as fine and half as strong, 0..1. Octaves finer than `footprint` (same unit as x) are left out: they would alias. */
export function layeredNoise(x: number, y: number, salt: number, octaves: number, footprint: number): number {
  let [sum, weight, scale, total] = [0, 1, 1, 0]
  for (let octave = 0; octave < octaves; octave += 1) {
    const seen = Math.min(1, Math.max(0, 1.5 - footprint * scale * 1.5))
    sum += weight * (seen > 0 ? 0.5 + (valueNoise(x * scale, y * scale, salt + octave) - 0.5) * seen : 0.5)
    total += weight
    weight /= 2
    scale *= 2
  }
  return sum / total
}

function smooth(t: number): number {
  return t * t * (3 - 2 * t)
}

function lattice(column: number, row: number, salt: number): number {
  let mixed = Math.imul(column, 0x27d4eb2d) ^ Math.imul(row, 0x165667b1) ^ Math.imul(salt, 0x9e3779b1)
  mixed = Math.imul(mixed ^ (mixed >>> 15), 0x85ebca6b)
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35)
  return ((mixed ^ (mixed >>> 16)) >>> 0) / 4294967296
}
