import { promisedName } from '../../grade/gradings/grading.js'
import type { TapePurpose } from '../../grade/marksToTape.js'
import type { GroundView } from '../../lens/groundView.js'
import type { UnitSystem } from '../../units/formatLength.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import { NEARLY_STRAIGHT } from '../../lens/readAngles.js'
import { figuresFor } from '../../units/figures.js'
import { planSays } from './sentences.js'
import type { WalkPlan } from './planWalk.js'
import type { Walk } from '../read/walk.js'

/** What a mark is taped for, in words; the promise's own names where it is one. */
export function purposeWords(purpose: TapePurpose, distanceM: number, walk: Walk): string {
  if (purpose === 'promise') {
    const made = walk.promises.filter((promise) => Math.abs(promise.distanceM - distanceM) < 0.011)
    return `promised: ${[...new Set(made.map((one) => `${promisedName(one, walk.grading)}, ${one.light}`))].join('; ')}`
  }
  const what = walk.promises.length > 0 ? 'a promise' : "a grade's end"
  if (purpose === 'before') return `nearer than ${what}`
  if (purpose === 'beyond') return `beyond ${what}`
  return purpose === 'fit' ? 'pins the range' : ''
}

/** How a tape reads that does not begin at the lens, in one sentence; null where it does. */
export function tapeWords({ distance: { beginsM }, units }: Walk): string | null {
  const by = figuresFor(units).distance(Math.abs(beginsM))
  return beginsM === 0 ? null : planSays['tape-reads'](by, beginsM > 0).message
}

/** How the lens was read, in one sentence; null where the sheet does not tell one. */
export function lensWords({ reading }: WalkPlan): string | null {
  const lens = reading?.lens
  if (reading === null || lens === null || lens === undefined) return null
  const straight = lens.p < NEARLY_STRAIGHT ? reading.rectilinearPixelsPerRadian : null
  const middle = { value: lens.pixelsPerRadian, ...reading.bounds! }
  return planSays['lens-read'](lens.p, middle, reading.edgePixelsPerRadian, straight).message
}

/** Why the sheet tells no lens, in one sentence. */
export function noLensWords({ reading }: WalkPlan): string {
  if (reading === null) return planSays['size-untold']().message
  return planSays[reading.inDoubt ? 'lens-in-doubt' : 'lens-untold']().message
}

/** Where the view meets the ground, a sentence each; nothing where the walk does not tell heights, tilt and angle. */
export function groundWords(plan: WalkPlan, walk: Walk): string[] {
  const { ground, atReference, reference, marks } = plan
  const { mountHeightM, tiltDeg } = walk.camera
  if (mountHeightM === null || tiltDeg === null || plan.halfVerticalRad === null) return []
  const say = figuresFor(walk.units).distance
  const first = viewWords({ mountHeightM, tiltDeg, ground }, walk.units)
  if (atReference === null) return [first]
  const { beginsM, endsM } = atReference
  const outside = marks.flatMap(({ alongGroundM, distanceM }) =>
    alongGroundM !== null && (alongGroundM < beginsM || alongGroundM > (endsM ?? Infinity))
      ? [say(distanceM)]
      : [],
  )
  const end = endsM === null ? null : say(endsM)
  return [first, planSays['reference-in-view'](reference, say(beginsM), end, outside).message]
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
  if (ground === null) return planSays['no-ground-in-view'](say(mountHeightM), tiltDeg).message
  const begins = ground.beginsM === 0 ? null : say(ground.beginsM)
  const ends = ground.endsM === null ? null : say(ground.endsM)
  return planSays['ground-in-view'](say(mountHeightM), tiltDeg, begins, ends).message
}

/** A paper by its name, and what it is ordered on where A sizes are not sold. */
function paperName({ name, inches }: ChartPaper, units: UnitSystem): string {
  return units === 'imperial' && /^A\d/.test(name) ? `${name} (order ${inches})` : name
}

/** Which chart to print, in one sentence; null where the sheet tells no lens. */
export function paperWords({ paper: planned }: WalkPlan, units: UnitSystem): string | null {
  if (planned === null) return null
  const say = figuresFor(units).distance
  const { paper, farthestM, light, pxPerModule, reachM, carriedTooSmall } = planned
  const reached = [say(farthestM), light, say(reachM), pxPerModule] as const
  if (paper === null) return planSays['paper-too-small'](...reached).message
  return planSays['paper-to-print'](paperName(paper, units), ...reached, carriedTooSmall === true).message
}
