import type { TapePurpose } from '../../grade/marksToTape.js'
import type { GroundView } from '../../lens/groundView.js'
import type { UnitSystem } from '../../units/formatLength.js'
import { NEARLY_STRAIGHT } from '../../lens/readAngles.js'
import { figuresFor, trimmed } from '../../units/figures.js'
import type { WalkPlan } from './planWalk.js'
import type { Walk } from '../read/walk.js'

/** What a mark is taped for, in words; the promise's own names where it is one. */
export function purposeWords(purpose: TapePurpose, distanceM: number, walk: Walk): string {
  if (purpose === 'promise') {
    const made = walk.promises.filter((promise) => Math.abs(promise.distanceM - distanceM) < 0.011)
    return `promised: ${[...new Set(made.map(({ grade, light }) => `${gradeName(grade, walk)}, ${light}`))].join('; ')}`
  }
  const what = walk.promises.length > 0 ? 'a promise' : "a grade's end"
  if (purpose === 'before') return `nearer than ${what}`
  if (purpose === 'beyond') return `beyond ${what}`
  return purpose === 'fit' ? 'pins the range' : ''
}

/** The name of a grade of the walk's grading. */
export function gradeName(id: string, { grading }: Pick<Walk, 'grading'>): string {
  return grading.grades.find((grade) => grade.id === id)?.name ?? id
}

/** How the lens was read, in one sentence; null where the sheet does not tell one. */
export function lensWords({ reading }: WalkPlan): string | null {
  const lens = reading?.lens
  if (reading === null || lens === null || lens === undefined) return null
  const edge = reading.edgePixelsPerRadian
  const straight = lens.p < NEARLY_STRAIGHT ? reading.rectilinearPixelsPerRadian : null
  return (
    `read as p = ${lens.p.toFixed(2)} (at 1 straight lines stay straight, below they bend outward): ${lens.pixelsPerRadian.toFixed(0)} px per radian in the middle of the picture` +
    (edge === null ? '' : `, ${edge.toFixed(0)} at its left and right edge`) +
    (straight === null
      ? ''
      : `; ${straight.toFixed(0)} in the middle if the lens drew straight lines straight`)
  )
}

/** Why the sheet tells no lens, in one sentence. */
export function noLensWords({ reading }: WalkPlan): string {
  return reading === null
    ? 'without the size of a still it tells nothing in pixels'
    : 'it does not tell the lens: neither an angle nor a focal length with the size of a pixel'
}

/** Where the view meets the ground, a sentence each; nothing where the walk does not tell heights, tilt and angle. */
export function groundWords(plan: WalkPlan, walk: Walk): string[] {
  const { ground, atReference, reference, marks } = plan
  const { mountHeightM, tiltDeg } = walk.camera
  if (mountHeightM === null || tiltDeg === null || plan.halfVerticalRad === null) return []
  const say = figuresFor(walk.units).distance
  const first = viewWords({ mountHeightM, tiltDeg, ground }, walk.units)
  if (atReference === null) return [first]
  const below = marks.filter(
    ({ alongGroundM }) =>
      alongGroundM !== null &&
      (alongGroundM < atReference.beginsM || alongGroundM > (atReference.endsM ?? Infinity)),
  )
  const outside = below.map(({ distanceM }) => say(distanceM))
  const end = atReference.endsM === null ? '' : ` to ${say(atReference.endsM)}`
  return [
    first,
    `the middle of the ${reference} as it is carried is in view from ${say(atReference.beginsM)}${end}` +
      (outside.length === 0 ? '' : `: it is out of the picture at ${outside.join(', ')}`),
  ]
}

/** Where a camera's view begins and ends on the ground, in one sentence. */
export function viewWords(
  station: {
    readonly mountHeightM: number
    readonly tiltDeg: number
    readonly ground: GroundView | null
  },
  units: UnitSystem,
): string {
  const { mountHeightM, tiltDeg, ground } = station
  const say = figuresFor(units).distance
  const from = `from ${say(mountHeightM)} up, looking ${trimmed(tiltDeg, 1)} degrees down`
  if (ground === null) return `${from}, the camera sees no level ground`
  const ends = ground.endsM === null ? 'to the horizon' : `to ${say(ground.endsM)}`
  return ground.beginsM === 0
    ? `${from}, the ground is in view from right below the camera ${ends}`
    : `${from}, the ground is in view from ${say(ground.beginsM)} ${ends}, along the ground`
}

/** Which chart to print, in one sentence; null where the sheet tells no lens. */
export function paperWords({ paper: planned }: WalkPlan, units: UnitSystem): string | null {
  if (planned === null) return null
  const say = figuresFor(units).distance
  const { paper, farthestM, light, pxPerModule, reachM, carriedTooSmall } = planned
  const limit = `${trimmed(pxPerModule, 2)} px per module, this project's measurement`
  if (paper === null) {
    return `no paper is large enough for ${say(farthestM)}: in ${light} even an A0 is found only out to ${say(reachM)} (${limit}); carry a board there, its corners clicked`
  }
  const own = carriedTooSmall === true ? "; the walk's own is smaller and will be missed far out" : ''
  return `the chart on ${paper.name}: in ${light} it is found out to ${say(reachM)} (${limit}), the farthest mark is ${say(farthestM)} away${own}`
}
