type Colour = readonly [red: number, green: number, blue: number]
/** A rounded bar between two ends; u to the right of the figure's middle, h up from the ground, r half its width, metres. */
interface Limb {
  readonly u0: number
  readonly h0: number
  readonly r0: number
  readonly u1: number
  readonly h1: number
  readonly r1: number
}

/** One piece of clothing or skin: limbs that run together. */
export interface Garment {
  readonly limbs: readonly Limb[]
  readonly colour: Colour
  /** Share of infrared it throws back. */
  readonly infrared: number
  /** How far in from its outline it curves away, metres. */
  readonly roundM: number
  /** Strength of the cloth's folds, and what sets them apart from another garment's. */
  readonly folds: number
  readonly salt: number
  /** Reflecting bands between two heights. */
  readonly bands: readonly (readonly [lowM: number, highM: number])[]
  /** It ends level here, metres over the ground. */
  readonly hemM?: number
  /** An upright seam at this u. */
  readonly seamU?: number
  readonly bounds: {
    readonly left: number
    readonly right: number
    readonly low: number
    readonly high: number
  }
}

/** Where the hands are, metres to each side of the middle and over the ground. */
export interface Grip {
  readonly handsOutM: number
  readonly handsHeightM: number
}

const TROUSERS: Colour = [0.04, 0.046, 0.06]
const JACKET: Colour = [0.1, 0.085, 0.035]
const BOOTS: Colour = [0.03, 0.026, 0.022]
const SKIN: Colour = [0.42, 0.27, 0.2]
const CAP: Colour = [0.05, 0.055, 0.07]

interface Look {
  readonly colour: Colour
  readonly infrared: number
  readonly roundM: number
  readonly folds?: number
  readonly bands?: readonly (readonly [number, number])[]
  readonly hemM?: number
  readonly seamU?: number
}

/** A garment of runs of limbs; a run is its ends one after the other, three numbers each: u, height, half the width there, metres. */
function garment(look: Look, ...runs: readonly (readonly number[])[]): Garment {
  const limbs = runs.flatMap(limbsOf)
  // Blended limbs swell a little where they meet.
  const swell = 0.05
  return {
    limbs,
    colour: look.colour,
    infrared: look.infrared,
    roundM: look.roundM,
    folds: look.folds ?? 0,
    salt: Math.abs(limbs[0]!.u0 * 37 + limbs[0]!.h0 * 11),
    bands: look.bands ?? [],
    ...(look.hemM === undefined ? {} : { hemM: look.hemM }),
    ...(look.seamU === undefined ? {} : { seamU: look.seamU }),
    bounds: {
      left: Math.min(...limbs.flatMap(({ u0, r0, u1, r1 }) => [u0 - r0, u1 - r1])) - swell,
      right: Math.max(...limbs.flatMap(({ u0, r0, u1, r1 }) => [u0 + r0, u1 + r1])) + swell,
      low: Math.min(...limbs.flatMap(({ h0, r0, h1, r1 }) => [h0 - r0, h1 - r1])) - swell,
      high: Math.max(...limbs.flatMap(({ h0, r0, h1, r1 }) => [h0 + r0, h1 + r1])) + swell,
    },
  }
}

function limbsOf(run: readonly number[]): Limb[] {
  return Array.from({ length: run.length / 3 - 1 }, (_, at) => {
    const [u0, h0, r0, u1, h1, r1] = run.slice(3 * at, 3 * at + 6)
    return { u0: u0!, h0: h0!, r0: r0!, u1: u1!, h1: h1!, r1: r1! }
  })
}

const boots: Look = { colour: BOOTS, infrared: 0.06, roundM: 0.04 }
const trousers: Look = { colour: TROUSERS, infrared: 0.16, roundM: 0.06, folds: 0.55, bands: [[0.27, 0.315]] }
const seat: Look = { colour: TROUSERS, infrared: 0.16, roundM: 0.06, folds: 0.4 }
const jacket: Look = { colour: JACKET, infrared: 0.24, roundM: 0.08, folds: 0.5 }
const body: Look = { ...jacket, hemM: 0.8, seamU: 0.004, bands: [[1.02, 1.055]] }
const collar: Look = { ...jacket, roundM: 0.03, folds: 0.3 }
const skin: Look = { colour: SKIN, infrared: 0.42, roundM: 0.06, folds: 0.06 }
const hand: Look = { colour: SKIN, infrared: 0.42, roundM: 0.03 }
const cap: Look = { colour: CAP, infrared: 0.15, roundM: 0.05, folds: 0.25, hemM: 1.638 }

/** Somebody in a work jacket and trousers, farthest piece first; weight on one leg, head a little turned. */
export function bodyGarments(grip: Grip): readonly Garment[] {
  return [
    garment(boots, [-0.115, 0.07, 0.04, -0.135, 0.03, 0.034, -0.17, 0.022, 0.024]),
    garment(boots, [0.1, 0.07, 0.04, 0.122, 0.03, 0.034, 0.165, 0.02, 0.024]),
    garment({ ...trousers, hemM: 0.062 }, [-0.112, 0.04, 0.058, -0.1, 0.5, 0.05, -0.085, 0.88, 0.074]),
    garment({ ...trousers, hemM: 0.06 }, [0.1, 0.04, 0.058, 0.092, 0.5, 0.05, 0.084, 0.88, 0.074]),
    garment(seat, [-0.07, 0.88, 0.075, 0.07, 0.88, 0.075]),
    // The neck.
    garment(skin, [0, 1.44, 0.05, 0.002, 1.54, 0.05]),
    garment(
      body,
      [-0.1, 0.78, 0.062, -0.12, 1.36, 0.05],
      [0.1, 0.78, 0.062, 0.12, 1.365, 0.05],
      [0, 0.78, 0.07, 0, 1.4, 0.05],
      // The shoulders.
      [-0.165, 1.395, 0.034, -0.04, 1.45, 0.026],
      [0.165, 1.395, 0.034, 0.04, 1.455, 0.026],
    ),
    garment(collar, [-0.05, 1.458, 0.022, 0.052, 1.462, 0.022]),
    // The head.
    garment(skin, [0.006, 1.548, 0.056, 0.008, 1.62, 0.07]),
    garment(cap, [-0.018, 1.658, 0.056, 0.034, 1.66, 0.056], [0.008, 1.685, 0.05, 0.012, 1.695, 0.05]),
    sleeve(-1, grip),
    sleeve(1, grip),
  ]
}

function sleeve(side: number, { handsOutM: out, handsHeightM: high }: Grip): Garment {
  const elbow = Math.max(0.31, Math.min(0.37, out - 0.04))
  const elbowHigh = Math.min(1.13, high + 0.05)
  return garment({ ...jacket, roundM: 0.06 }, [
    ...[side * 0.192, 1.385, 0.058],
    ...[side * elbow, elbowHigh, 0.05],
    ...[side * (out + 0.012), high - 0.02, 0.038],
  ])
}

/** The hands alone, which come before what they hold. */
export function handGarments({ handsOutM: out, handsHeightM: high }: Grip): readonly Garment[] {
  return [-1, 1].flatMap((side) => [
    garment(hand, [side * (out + 0.02), high - 0.024, 0.022, side * (out + 0.014), high + 0.016, 0.022]),
    garment(hand, [side * (out + 0.008), high + 0.02, 0.009, side * (out - 0.026), high + 0.026, 0.007]),
  ])
}
