import type { DemoLightName } from '../yard/demoLight.js'

/** The part a still plays in the story. */
export type DemoRole =
  /** By day the board holds to its promise. */
  | 'promise-kept'
  /** At the limit nobody can tell. */
  | 'at-the-limit'
  /** Under infrared the plate is at white ... */
  | 'plate-at-white'
  /** ... while the board at the same mark is fine. */
  | 'board-beside-it'
  /** Passes on pixels, fails with detail: half size, blown up by the player. */
  | 'blown-up'
  /** The tape lay wrong. */
  | 'wrong-tape'
  /** The chart's whole curve by day ... */
  | 'sharp-by-day'
  /** ... and at the same mark under infrared, which the lens brings to focus elsewhere. */
  | 'soft-under-infrared'
  /** Somebody leant a ladder against the mast: the camera was knocked before it. */
  | 'knocked'

/** What is carried; the chart has no pick and is found by itself. */
type DemoReference = 'board' | 'plate' | 'chart'

/** One still of the walk: what the file says of it, and what was so. */
export interface DemoStill {
  readonly light: DemoLightName
  readonly reference: DemoReference
  /** As on the tape and in the file's name, metres. */
  readonly tapedM: number
  /** From the lens to the reference, metres. */
  readonly trueM: number
  /** Export size over the size it was taken at. */
  readonly blownUp: 1 | 2
  /** How much farther down and to the right the camera looks than in the other stills. */
  readonly knock: Knock
  readonly role: DemoRole | null
}

/** How a camera stands against how it stood, degrees. */
export interface Knock {
  readonly rightDeg: number
  readonly lowerDeg: number
}

const at = (
  light: DemoLightName,
  reference: DemoReference,
  tapedM: number,
  role: DemoRole | null = null,
  special: { trueM?: number; blownUp?: 2; knock?: Knock } = {},
): DemoStill => ({
  light,
  reference,
  tapedM,
  trueM: special.trueM ?? tapedM,
  blownUp: special.blownUp ?? 1,
  knock: special.knock ?? { rightDeg: 0, lowerDeg: 0 },
  role,
})

/** Every still of the demonstration, in the order of its story. At 2200 px per radian 125 px/m ends at 17.6 m and 250 px/m at 8.8 m. */
export const DEMO_STILLS: readonly DemoStill[] = [
  at('day', 'board', 4),
  at('day', 'board', 6),
  at('day', 'board', 9),
  at('day', 'board', 12, 'wrong-tape', { trueM: 13.8 }),
  at('day', 'board', 16, 'promise-kept'),
  at('day', 'board', 17.5, 'at-the-limit', { trueM: 17.54 }),
  at('day', 'board', 20),
  at('day', 'plate', 4),
  at('day', 'plate', 9),
  at('day', 'plate', 16),
  at('infrared', 'board', 4),
  at('infrared', 'board', 6, 'board-beside-it'),
  at('infrared', 'board', 9),
  at('infrared', 'board', 12),
  at('infrared', 'board', 16),
  at('infrared', 'plate', 4),
  at('infrared', 'plate', 6, 'plate-at-white'),
  at('infrared', 'plate', 9),
  at('infrared', 'plate', 16),
  at('lamp', 'board', 9),
  at('lamp', 'board', 12, 'blown-up', { blownUp: 2 }),
  at('lamp', 'board', 16),
  at('lamp', 'board', 20, 'knocked', { knock: { rightDeg: -1.2, lowerDeg: 0.5 } }),
  at('day', 'chart', 6),
  at('day', 'chart', 9, 'sharp-by-day'),
  at('day', 'chart', 16),
  at('infrared', 'chart', 9, 'soft-under-infrared'),
]

/** The path of a still from the walk's folder, with forward slashes. */
export function demoStillFile(still: DemoStill): string {
  return `stills/${still.light}/${still.tapedM}m-${still.reference}.jpg`
}
