import { catalogue } from '../sentences.js'

const PROGRAM = { topic: 'program' } as const
const BAD_ARGUMENT = { ...PROGRAM, code: 'bad-argument' } as const
const NOT_FINITE = { ...PROGRAM, code: 'not-finite' } as const
const NOT_DETERMINED = { ...PROGRAM, code: 'not-determined' } as const

/** All that numbers and fits say. */
export const mathSays = catalogue({
  'no-probability': {
    ...BAD_ARGUMENT,
    say: (p: number) => `a probability is between 0 and 1, not ${p}`,
  },
  'not-positive': { ...BAD_ARGUMENT, say: (value: number) => `a positive number is needed, not ${value}` },
  'bad-contribution': {
    ...BAD_ARGUMENT,
    say: (u: number, dof: number) => `a contribution of u ${u} at ${dof} degrees of freedom`,
  },
  'points-unpaired': {
    ...BAD_ARGUMENT,
    say: (plane: number, image: number) => `${plane} plane points and ${image} image points`,
  },
  'too-few-residuals': {
    ...BAD_ARGUMENT,
    say: (residuals: number, parameters: number, held: number) =>
      `${residuals} residuals, ${parameters} parameters, ${held} of them held`,
  },
  'no-point-of-a-line': {
    ...NOT_FINITE,
    say: (x: number, y: number, weight: number) =>
      `the point (${x}, ${y}) of weight ${weight} is not a point of a line`,
  },
  'points-not-finite': { ...NOT_FINITE, say: 'the points are not finite or lie in one place' },
  'start-not-finite': { ...NOT_FINITE, say: 'the fit cannot start: its residuals are not finite' },
  'slopes-not-finite': { ...NOT_FINITE, say: 'the fit met derivatives that are not finite' },
  'one-place': { ...NOT_DETERMINED, say: 'a line needs points at two different places' },
  'no-view-of-a-plane': { ...NOT_DETERMINED, say: 'the points determine no view of a plane' },
  'not-determined': { ...PROGRAM, say: 'the fit does not determine its parameters' },
  'not-converged': { ...PROGRAM, say: (steps: number) => `the fit did not converge in ${steps} steps` },
})
