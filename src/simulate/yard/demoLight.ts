import { LAMP_HEAD } from './demoYard.js'
import type { SurfacePoint } from './sceneBody.js'
import { layeredNoise } from './valueNoise.js'
import { unit, type WorldVector } from '../camera/worldVector.js'

/** The lights of the demonstration. */
export type DemoLightName = 'day' | 'infrared' | 'lamp'

/** The light that falls on a surface, per colour, for a white surface square to it: 1 = white at gain 1. */
export interface Irradiance {
  red: number
  green: number
  blue: number
}

/** One light of the yard. `shadowed` 0..1 is how much of the lamp or sun is kept from the place. */
export interface DemoLight {
  readonly name: DemoLightName
  readonly channels: 1 | 3
  /** Where shadows are cast from: a direction (sun), a place (lamp), or nothing (light beside the lens casts none that it sees). */
  readonly source: { readonly kind: 'far' | 'near'; readonly at: WorldVector } | null
  fallsOn(at: WorldVector, normal: SurfacePoint, shadowed: number, out: Irradiance): void
  /** Light of the sky in a direction above the horizon. */
  sky(direction: WorldVector, out: Irradiance): void
}

const SUN: WorldVector = unit([-0.62, -0.5, 0.72])

/** A bright day with thin cloud, the sun behind the camera's left shoulder. */
export function dayLight(): DemoLight {
  return {
    name: 'day',
    channels: 3,
    source: { kind: 'far', at: SUN },
    fallsOn: (_at, n, shadowed, out) => {
      const sun = 0.62 * Math.max(0, n.nx * SUN[0] + n.ny * SUN[1] + n.nz * SUN[2]) * (1 - shadowed)
      const above = 0.34 * (0.62 + 0.38 * n.nz)
      out.red = sun * 1.05 + above * 0.93
      out.green = sun + above
      out.blue = sun * 0.88 + above * 1.13
    },
    sky: (d, out) => {
      const height = Math.max(0, d[2])
      const spread = 1 / (height + 0.12)
      const cloud = layeredNoise(d[0] * spread * 1.1 + 3, d[1] * spread * 0.55 + 9, 83, 5, 0.002 * spread)
      const cover = Math.max(0, Math.min(1, (cloud - 0.42) * 3.4))
      const haze = Math.exp(-height * 9)
      out.red = mix(mix(0.3, 0.78, cover), 0.72, haze)
      out.green = mix(mix(0.45, 0.79, cover), 0.76, haze)
      out.blue = mix(mix(0.68, 0.82, cover), 0.8, haze)
    },
  }
}

/** Night under the camera's own infrared lamp: falls off with the square of distance and away from the axis. One channel. */
export function infraredLight(mountHeightM: number): DemoLight {
  const axis: WorldVector = unit([0, 1, -0.16])
  return {
    name: 'infrared',
    channels: 1,
    source: null,
    fallsOn: (at, n, _shadowed, out) => {
      const [x, y, z] = [at[0], at[1], at[2] - mountHeightM]
      const distance = Math.hypot(x, y, z)
      const facing = Math.max(0, -(n.nx * x + n.ny * y + n.nz * z) / distance)
      const off = Math.acos(Math.min(1, (x * axis[0] + y * axis[1] + z * axis[2]) / distance))
      const beam = Math.exp(-((off / 0.62) ** 2))
      // Rough ground throws more back towards the lamp than a matt one does.
      const level = (beam * Math.sqrt(facing) * 24) / (distance * distance) + 0.0012
      out.red = level
      out.green = level
      out.blue = level
    },
    sky: (_d, out) => {
      out.red = 0.0009
      out.green = 0.0009
      out.blue = 0.0009
    },
  }
}

/** Night under the yard's lamp alone, warm, in a dark surround. */
export function lampLight(): DemoLight {
  return {
    name: 'lamp',
    channels: 3,
    source: { kind: 'near', at: LAMP_HEAD },
    fallsOn: (at, n, shadowed, out) => {
      const [x, y, z] = [LAMP_HEAD[0] - at[0], LAMP_HEAD[1] - at[1], LAMP_HEAD[2] - at[2]]
      const distance = Math.hypot(x, y, z)
      const facing = Math.max(0, (n.nx * x + n.ny * y + n.nz * z) / distance)
      const down = Math.sqrt(Math.max(0, z / distance))
      const level = (down * facing * (1 - shadowed) * 16) / (distance * distance + 0.3)
      out.red = level * 1.12 + 0.0022
      out.green = level + 0.0026
      out.blue = level * 0.66 + 0.0036
    },
    sky: (d, out) => {
      const low = Math.exp(-Math.max(0, d[2]) * 7)
      out.red = 0.002 + 0.004 * low
      out.green = 0.0024 + 0.004 * low
      out.blue = 0.0038 + 0.0042 * low
    },
  }
}

function mix(a: number, b: number, share: number): number {
  return a + (b - a) * share
}
