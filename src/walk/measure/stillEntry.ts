import type { StillGrades } from '../../grade/judgement.js'
import type { Pick } from '../../measure/reference/pick.js'
import type { Problem, Sharpness, StillMeasurement, StripDetail } from '../../measure/stillMeasurement.js'
import type { StillEntry } from '../schemas/resultsSchema.js'
import { asBound } from '../../grade/range/densityThere.js'
import { detailBound } from '../../grade/gradings/detailBound.js'
import { resolvedDetail } from '../../measure/surface/resolvedDetail.js'
import { roundNumbers } from '../../units/roundNumbers.js'

type FoundPoints = NonNullable<NonNullable<StillEntry['budget']>['found']>

/** Where a still stands in its walk; light and distance are null for a still measured on its own. */
export interface StillPlace {
  readonly file: string
  readonly sha256: string
  readonly light: string | null
  readonly distanceM: number | null
  readonly reference: string
  /** When its camera says it was taken; null where it does not say. */
  readonly takenAt: string | null
  /** What it was measured on. */
  readonly pick: Pick
  /** The still it shows again. */
  readonly sameAs?: string | null
  /** The reference that its mark took its detail from. */
  readonly detailFrom?: string | null
  /** The stills that may be its picture too. */
  readonly alike?: readonly string[]
}

/** The entry of a still in `results.json`: its place, what was measured on it, and the grades it reaches. */
export function stillEntry(
  place: StillPlace,
  measurement: StillMeasurement,
  grades: StillGrades,
  moreProblems: readonly Problem[],
): StillEntry {
  const { density, sharpness, tone } = measurement
  const bound = sharpness === null ? null : detailBound(measurement, place.light) !== null
  return roundNumbers({
    file: place.file,
    sha256: place.sha256,
    width: measurement.width,
    height: measurement.height,
    ...(place.takenAt === null ? {} : { takenAt: place.takenAt }),
    light: place.light,
    distance: place.distanceM,
    reference: place.reference,
    method: measurement.method,
    corners: measurement.corners.map(([x, y]): [number, number] => [x, y]),
    density: { ...density },
    budget: { ...measurement.budget, ...foundPoints(place.pick) },
    pose: measurement.pose,
    sharpness: sharpness === null ? null : sharpnessEntry(sharpness),
    tone: tone === null ? null : { ...tone, roseK: { ...tone.roseK } },
    ...(measurement.strip === undefined ? {} : { strip: stripEntry(measurement.strip) }),
    effectiveDensity: measurement.effectiveDensity && asBound(measurement.effectiveDensity, bound === true),
    usable: grades.usable,
    grade: grades.grade,
    gradeByPixels: grades.gradeByPixels,
    problems: oncePerCode([...measurement.problems, ...moreProblems]),
    resolved: sharpness && asBound(resolvedDetail(density, sharpness), bound === true),
    detailFrom: place.detailFrom ?? null,
    bound,
    sameAs: place.sameAs ?? null,
    blocks: [...(measurement.blocks ?? [])],
    ...(place.alike === undefined || place.alike.length === 0 ? {} : { alike: [...place.alike] }),
  })
}

/** What was found in the still and stands in no other file: judging again starts from it. */
function foundPoints(pick: Pick): { readonly found?: FoundPoints } {
  if (pick.kind !== 'corners' || pick.method !== 'found') return {}
  const { corners, covariancePx2, flattened } = pick
  const written = { corners, covariancePx2, flattened }
  // Plain data, written as it is; what a reader gets is no longer held unchangeable.
  return { found: written as FoundPoints }
}

function sharpnessEntry({ curve, ...rest }: Sharpness): NonNullable<StillEntry['sharpness']> {
  if (curve === undefined) return rest
  const { step, horizontal, vertical } = curve
  return { ...rest, curve: { step, horizontal: [...horizontal], vertical: [...vertical] } }
}

/** Plain data, written as it is. */
function stripEntry(strip: StripDetail | null): StillEntry['strip'] {
  return strip as StillEntry['strip']
}

/** Measuring and grading may both tell of a washed-out surface: the first word stands. */
function oncePerCode(problems: readonly Problem[]): { code: string; message: string }[] {
  return problems
    .filter(({ code }, index) => problems.findIndex((other) => other.code === code) === index)
    .map(({ code, message }) => ({ code, message }))
}
