import type { DemoLight } from '../yard/demoLight.js'
import type { PlanarTarget } from '../camera/planarTarget.js'
import type { WorldVector } from '../camera/worldVector.js'

/** How tall the figure counts for its shadow, metres, and half how wide. */
const TALL_M = 1.7
const HALF_WIDTH_M = 0.24
const LONGEST_M = 4.5

/** The shadows of a figure on the level ground at its feet: what it keeps from the sun or lamp, and the dark under its boots. */
export function figureShadow(light: DemoLight, feet: WorldVector): readonly PlanarTarget[] {
  const contact = darkEllipse(feet, [1, 0, 0], 0.34, 0.2, 0.55)
  const { source } = light
  if (source === null) return [contact]
  const towards =
    source.kind === 'far'
      ? source.at
      : ([source.at[0] - feet[0], source.at[1] - feet[1], Math.max(0.5, source.at[2] - TALL_M)] as const)
  const level = Math.hypot(towards[0], towards[1])
  const lengthM = Math.min(LONGEST_M, (TALL_M * level) / towards[2])
  const away: WorldVector = [-towards[0] / level, -towards[1] / level, 0]
  return [darkStrip(feet, away, lengthM, source.kind === 'far' ? 0.52 : 0.8), contact]
}

/** A soft dark strip along the ground from the feet. */
function darkStrip(feet: WorldVector, away: WorldVector, lengthM: number, dark: number): PlanarTarget {
  const half = lengthM / 2 + 0.3
  return {
    centre: [feet[0] + (away[0] * lengthM) / 2, feet[1] + (away[1] * lengthM) / 2, 0],
    right: away,
    down: [-away[1], away[0], 0],
    halfWidthM: half,
    halfHeightM: 0.6,
    surface: (u, v, _boxU, _boxV, out) => {
      const from = u + lengthM / 2
      const t = Math.max(0, Math.min(1, from / lengthM))
      // Narrow at the legs, wide where the arms are, a head at the end.
      const rise = Math.max(0, Math.min(1, (t - 0.3) / 0.25))
      const neck = Math.max(0, Math.min(1, (t - 0.8) / 0.12))
      const half =
        HALF_WIDTH_M * (0.8 + 0.65 * rise * rise * (3 - 2 * rise) - 0.95 * neck * neck * (3 - 2 * neck))
      const soft = 0.03 + 0.1 * t
      const beyond = Math.max(Math.abs(v) - half, from - lengthM, -from - 0.1)
      out.red = out.green = out.blue = 0
      out.coverage = dark * (1 - 0.25 * t) * Math.max(0, Math.min(1, 0.5 - beyond / (2 * soft)))
    },
  }
}

function darkEllipse(
  feet: WorldVector,
  right: WorldVector,
  halfWidthM: number,
  halfDepthM: number,
  dark: number,
): PlanarTarget {
  return {
    centre: feet,
    right,
    down: [0, -1, 0],
    halfWidthM,
    halfHeightM: halfDepthM,
    surface: (u, v, _boxU, _boxV, out) => {
      const off = Math.hypot(u / halfWidthM, v / halfDepthM)
      out.red = out.green = out.blue = 0
      out.coverage = dark * Math.max(0, 1 - off * off)
    },
  }
}
