/** A repeatable stream of random numbers. The same seed gives the same stream on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number
  /** Standard normal. */
  normal(): number
}

/**
 * Seeded generator: 32-bit state turned by a Weyl step and mixed by two xor-multiplies (Mulberry32, public domain,
 * T. Ettinger 2017), and normals by the polar method of Marsaglia (SIAM Review 6 (1964) 260). For simulation, not for secrets.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0
  let spare: number | null = null
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
  const normal = (): number => {
    if (spare !== null) {
      const value = spare
      spare = null
      return value
    }
    for (;;) {
      const x = 2 * uniform() - 1
      const y = 2 * uniform() - 1
      const square = x * x + y * y
      if (square > 0 && square < 1) {
        const scale = Math.sqrt((-2 * Math.log(square)) / square)
        spare = y * scale
        return x * scale
      }
    }
  }
  return { uniform, normal }
}
