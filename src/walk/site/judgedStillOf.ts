import type { JudgedStill } from '../../grade/judgement.js'
import type { Point } from '../../math/point.js'
import type { StillEntry, WalkResults } from '../schemas/resultsSchema.js'
import { isSameMark } from '../read/sameMark.js'

/**
 * A still of the results as it was judged, without what results.json does not keep; null where it says nothing of its mark or of how its
 * uncertainty is made up.
 */
export function judgedStillOf(entry: StillEntry, results: WalkResults): JudgedStill | null {
  const { light, distance, budget, sharpness } = entry
  if (light === null || distance === null || budget === undefined) return null
  const mark = results.marks.find(
    (one) => one.light === light && one.reference === entry.reference && isSameMark(one.distance, distance),
  )
  return {
    file: entry.file,
    light,
    reference: entry.reference,
    distanceM: distance,
    lineOfSightM: mark?.lineOfSight ?? distance,
    grade: entry.grade,
    gradeByPixels: entry.gradeByPixels,
    usable: entry.usable,
    measurement: {
      width: entry.width,
      height: entry.height,
      method: entry.method,
      corners: entry.corners.map(([x, y]): Point => [x, y]),
      density: entry.density,
      budget,
      pose: entry.pose,
      sharpness,
      tone: entry.tone,
      strip: entry.strip,
      effectiveDensity: entry.effectiveDensity && {
        ...entry.effectiveDensity,
        low: entry.effectiveDensity.low ?? 0,
      },
      problems: entry.problems,
    },
  }
}
