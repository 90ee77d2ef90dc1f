import type { DemoLight, Irradiance } from './demoLight.js'
import { layeredNoise } from './valueNoise.js'
import type { WorldVector } from '../camera/worldVector.js'
import { power } from '../../math/power.js'

/** What is seen above the horizon: the sky, and a far shore of low wooded hills before it. */
export function seeSky(light: DemoLight, direction: WorldVector, out: Irradiance): void {
  const bearing = Math.atan2(direction[0], direction[1])
  const ridge = 0.008 + 0.05 * power(layeredNoise(bearing * 3.1 + 5, 0, 89, 4, 0.002), 1.6)
  light.sky(direction, out)
  if (direction[2] > ridge || light.name === 'infrared') return
  if (light.name === 'lamp') {
    out.red *= 0.35
    out.green *= 0.35
    out.blue *= 0.4
    const bright = layeredNoise(bearing * 260, direction[2] * 500, 97, 1, 0.1)
    if (bright > 0.93 && direction[2] < 0.012) {
      out.red += 0.2
      out.green += 0.16
      out.blue += 0.08
    }
    return
  }
  const woods = layeredNoise(bearing * 40, direction[2] * 60, 101, 3, 0.02)
  const far = 0.55
  out.red = out.red * far * 0.75 + (0.09 + 0.06 * woods) * (1 - far)
  out.green = out.green * far * 0.8 + (0.15 + 0.07 * woods) * (1 - far)
  out.blue = out.blue * far * 0.85 + (0.12 + 0.05 * woods) * (1 - far)
}

/** What is seen of the water at a point: ripples that mirror the sky, darker where one looks down into it. */
export function seeWater(
  light: DemoLight,
  at: WorldVector,
  direction: WorldVector,
  footprintM: number,
  out: Irradiance,
): void {
  if (light.name === 'infrared') {
    out.red = 0.0008
    out.green = 0.0008
    out.blue = 0.0008
    return
  }
  const along = footprintM / Math.max(0.02, -direction[2])
  const swell = layeredNoise(at[0] * 0.7, at[1] * 2.2, 103, 4, along * 1.2) - 0.5
  const cross = layeredNoise(at[0] * 0.9 + 30, at[1] * 1.7, 107, 3, along * 1.2) - 0.5
  const mirrored: WorldVector = [
    direction[0] + 0.1 * cross,
    direction[1],
    Math.max(0.002, -direction[2] + 0.28 * swell + 0.03),
  ]
  const facing = Math.max(0, Math.min(1, -direction[2] + 0.5 * swell))
  const mirror = 0.04 + 0.9 * power(1 - facing, 5)
  seeSky(light, mirrored, out)
  const body = light.name === 'day' ? 0.06 : 0.0006
  out.red = out.red * mirror * 0.9 + body * 0.7 * (1 - mirror)
  out.green = out.green * mirror * 0.94 + body * 1.2 * (1 - mirror)
  out.blue = out.blue * mirror + body * 1.3 * (1 - mirror)
}
