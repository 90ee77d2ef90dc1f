import type { ToldMotion } from './toldMotion.js'

/** How a still lies against the others of its light: `group` 0 stands as most do, others stand turned or scaled alike. All else null where it shows another view. */
export interface SceneStill extends Nulls<Omit<ToldMotion, 'matches'>> {
  readonly file: string
  readonly group: number
  readonly matches: number
}

/** How one light's stills lie against another's. */
export interface SceneLight extends ToldMotion {
  readonly light: string
  readonly against: string
}

/** What the stills of a walk tell of each other by what does not move in them; stills of which nothing is told are not there. */
export interface Scene {
  readonly stills: readonly SceneStill[]
  readonly lights: readonly SceneLight[]
}

type Nulls<Group> = { readonly [Key in keyof Group]: Group[Key] | null }

/** A still that is the same view as most of its light, with how it lies against them. */
export type PlacedStill = SceneStill & ToldMotion

/** Whether a still shows the view that most of its light show. */
export function isPlaced(still: SceneStill): still is PlacedStill {
  return still.shift !== null
}
