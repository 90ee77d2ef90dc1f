import type { ToldMotion } from '../../scene/toldMotion.js'
import { printedEstimate, printedUncertainty } from '../../units/printedEstimate.js'

type Turned = Pick<ToldMotion, 'turn' | 'shift' | 'u'>

/** "0.30 degrees to the right and 0.15 up (within 0.02)" of a camera that turned, px of a picture where no lens is known. */
export function turnWords({ turn, shift, u }: Turned): string {
  const [x, y, within, unit] =
    turn === null
      ? ([shift.x, shift.y, u.shift, 'px'] as const)
      : ([turn.pan, turn.tilt, u.turn, 'degrees'] as const)
  const sides = [
    { by: x, to: x > 0 ? 'to the right' : 'to the left' },
    { by: y, to: y > 0 ? 'down' : 'up' },
  ].filter(({ by }) => Math.abs(by) > within / 2)
  const told = sides.map(({ by, to }, index) => {
    const size = Math.abs(by)
    const { value } = printedEstimate({ value: size, low: size - within, high: size + within })
    return `${value} ${index === 0 ? `${unit} ` : ''}${to}`
  })
  return `${told.join(' and ')} (within ${printedUncertainty(within)})`
}

/** How far at most a still may lie off, with its uncertainty: "0.02 degrees", "1.2 px". */
export function withinWords(stills: readonly Turned[]): string {
  const inDegrees = stills.every(({ turn }) => turn !== null)
  const most = Math.max(...stills.map((still) => reach(still, inDegrees)))
  return `${printedUncertainty(most)} ${inDegrees ? 'degrees' : 'px'}`
}

function reach({ turn, shift, u }: Turned, inDegrees: boolean): number {
  if (inDegrees && turn !== null) return Math.hypot(turn.pan, turn.tilt) + u.turn
  return Math.hypot(shift.x, shift.y) + u.shift
}

/** By how many percent a scene is larger or smaller, no unit: "9.9 (9.8 to 10.1)". */
export function scaleWords({ scale, u }: Pick<ToldMotion, 'scale' | 'u'>): string {
  const size = 100 * Math.abs(scale - 1)
  const { value, low, high } = printedEstimate({
    value: size,
    low: size - 100 * u.scale,
    high: size + 100 * u.scale,
  })
  return `${value} (${low} to ${high})`
}
