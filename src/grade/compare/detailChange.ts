import type { LogChange } from './logChange.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'

/** f10 of a mark, cycles/px, its stills' lower directions averaged, and its relative standard uncertainty that is of these stills alone. */
export interface MarkF10 {
  readonly f10: number
  readonly ownRel: number
}

/**
 * What detail a mark shows; null where none of its stills tells any, or none says how well. The tone curve of the camera and the shape of its
 * blur err alike before and after, so they are left out here: they cancel in the ratio as long as the camera's settings stayed.
 */
export function markF10(mark: MarkMeasurement): MarkF10 | null {
  const told = mark.stills.flatMap(({ measurement: { sharpness } }) => {
    if (sharpness === null) return []
    const f10 = Math.min(sharpness.horizontal.mtf10, sharpness.vertical.mtf10)
    const U =
      sharpness.f10OwnU ?? (sharpness.factor < 1 ? (sharpness.factorU * f10) / sharpness.factor : null)
    return U === null || !(f10 > 0) ? [] : [{ f10, rel: U / 2 / f10 }]
  })
  if (told.length === 0) return null
  const n = told.length
  const f10 = told.reduce((sum, each) => sum + each.f10, 0) / n
  const stated = Math.sqrt(told.reduce((sum, { rel }) => sum + rel * rel, 0)) / n
  const variance = n < 2 ? 0 : told.reduce((sum, each) => sum + (each.f10 / f10 - 1) ** 2, 0) / (n - 1)
  return { f10, ownRel: Math.max(stated, Math.sqrt(variance / n)) }
}

/** The change of f10 at a mark; null where one of the walks tells none. */
export function detailChange(before: MarkMeasurement, after: MarkMeasurement): LogChange | null {
  const [one, other] = [markF10(before), markF10(after)]
  if (one === null || other === null) return null
  const logRatio = Math.log(other.f10 / one.f10)
  return { logRatio, ownRel: Math.hypot(one.ownRel, other.ownRel), dof: Infinity, common: [] }
}
