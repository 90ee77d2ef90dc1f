import { normalDensity, normalIntegral } from '../math/normalIntegral.js'

/** Beyond so many blurs from a side its step is over. */
export const EDGE_REACH = 4.5
/** Entries to a unit: read linearly, the integral is right to 5e-7. */
export const EDGE_STEPS = 256

const COUNT = 2 * EDGE_REACH * EDGE_STEPS + 2

/** The standard normal's integral and density from -4.5 to 4.5, entry i at i / 256 - 4.5: the fit looks up some hundred thousand of them. */
export const EDGE_INTEGRAL: Float64Array = Float64Array.from({ length: COUNT }, (_, i) =>
  normalIntegral(i / EDGE_STEPS - EDGE_REACH),
)
export const EDGE_DENSITY: Float64Array = Float64Array.from({ length: COUNT }, (_, i) =>
  normalDensity(i / EDGE_STEPS - EDGE_REACH),
)
