/** What a camera makes of the code values sRGB would give. */
export interface ToneCurve {
  readonly name: string
  readonly curve: (code: number) => number
}

const power = (gamma: number) => (code: number) => 255 * (code / 255) ** (2.2 / gamma)

export const SRGB: ToneCurve = { name: 'sRGB', curve: (code) => code }
export const GAMMA_18: ToneCurve = { name: 'gamma 1.8', curve: power(1.8) }
export const GAMMA_24: ToneCurve = { name: 'gamma 2.4', curve: power(2.4) }
/** Steeper in the middle, flatter at both ends. */
export const S_CURVE: ToneCurve = {
  name: 'S-curve',
  curve: (code) => {
    const v = code / 255
    return 255 * (v + 0.35 * v * (1 - v) * (2 * v - 1))
  },
}

/** A stronger one, as picture styles have it: its middle is 1.3 times as steep. */
export const STRONG_S_CURVE: ToneCurve = {
  name: 'strong S-curve',
  curve: (code) => code + 255 * 0.05 * Math.sin(2 * Math.PI * (code / 255 - 0.5)),
}
