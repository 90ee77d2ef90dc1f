import type { CarriedReference } from '../../src/simulate/walker/demoReferences.js'
import { stationPosition, type CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { greySurface, type PlanarTarget } from '../../src/simulate/camera/planarTarget.js'
import type { HeldPose } from './chartScene.js'
import { along, cross, dot } from '../../src/simulate/camera/worldVector.js'

/** The same thing with all to the right of `atU` (metres from its middle) in a shadow that leaves `share` of the light, its edge `softM` wide. */
export function halfInShadow(
  carried: CarriedReference,
  share: number,
  atU: number,
  softM = 0.004,
): CarriedReference {
  return dimmed(carried, (u) => {
    const t = Math.min(1, Math.max(0, (u - atU) / softM + 0.5))
    return 1 - (1 - share) * t
  })
}

/**
 * The same thing bent round an upright cylinder of `radiusM` (its middle stays where it is, its sides fall back), as a camera at `station`
 * sees it: the look of its plane is that of the bent paper along each line of sight.
 */
export function curled(
  carried: CarriedReference,
  station: CameraStation,
  pose: HeldPose,
  radiusM: number,
): CarriedReference {
  const eye = along(stationPosition(station), pose.centre, -1)
  const normal = cross(pose.down, pose.right)
  const [eu, ev, en] = [dot(eye, pose.right), dot(eye, pose.down), dot(eye, normal)]
  const half = carried.halfWidthM * 1.3
  return {
    ...carried,
    halfWidthM: half,
    halfHeightM: carried.halfHeightM * 1.3,
    surface: (u, v, w, h, out) => {
      // Along the line of sight P = eye + t (plane - eye): u^2 + (n + r)^2 = r^2, the nearer crossing.
      const [du, dv, dn] = [u - eu, v - ev, -en]
      const a = du * du + dn * dn
      const b = eu * du + (en + radiusM) * dn
      const c = eu * eu + (en + radiusM) ** 2 - radiusM ** 2
      const root = b * b - a * c
      out.coverage = 0
      if (root <= 0) return
      const t = (-b - Math.sqrt(root)) / a
      const x = eu + t * du
      const arc = radiusM * Math.atan2(x, radiusM + en + t * dn)
      carried.surface(arc, ev + t * dv, w, h, out)
    },
  }
}

/** A round patch of skin, `radiusM` across half, to lie over a chart at (u, v) metres from its middle, 5 mm before it. */
export function hand(pose: HeldPose, u: number, v: number, radiusM: number): PlanarTarget {
  const normal = cross(pose.down, pose.right)
  const centre = along(along(along(pose.centre, pose.right, u), pose.down, v), normal, 0.005)
  const surface = greySurface(radiusM, radiusM, () => 0.3)
  return {
    ...pose,
    centre,
    halfWidthM: radiusM,
    halfHeightM: radiusM,
    surface: (x, y, w, h, out) => {
      surface(x, y, w, h, out)
      out.coverage = Math.min(1, Math.max(0, (radiusM - Math.hypot(x, y)) / ((w + h) / 2) + 0.5))
    },
  }
}

/** A thing whose light is multiplied place by place. */
function dimmed(carried: CarriedReference, factor: (u: number) => number): CarriedReference {
  return {
    ...carried,
    surface: (u, v, w, h, out) => {
      carried.surface(u, v, w, h, out)
      const share = factor(u)
      out.red *= share
      out.green *= share
      out.blue *= share
    },
  }
}
