import { type Cause, causeColumn, isShift, leanPattern } from './causes.js'
import { HELD_RAD, NUMBERS } from './courtMarks.js'
import { courtModel, type CourtModel, type Freed, tryColumn, type Tried } from './courtModel.js'
import { leanAgainst, READ_FROM } from './turnsRead.js'

/** A shift is tried so many times, each from where the last came to. */
const SHIFT_STEPS = 4
/** How many times as rough as stated corners are tried to be. */
const ROUGHNESS = [1.2, 1.5, 2, 2.5, 3, 4, 5]

/** How far chi-square falls where a cause alone is freed, and what it then comes to. */
export function tryCause(cause: Cause, model: CourtModel, freed: Freed): Tried {
  if (cause.kind === 'rougher') return tryRougher(model, freed)
  if (cause.kind === 'lookedDown') return tryLookedDown(cause, model, freed)
  if (cause.kind === 'aspect') return tryAspect(cause, model, freed)
  if (!isShift(cause)) return tryColumn(model, causeColumn(cause, model.marks, freed.shiftsM))
  return tryShift(cause, model, freed)
}

/** Across against upright, and whether references turned as much would be seen to be by their corners. */
function tryAspect(cause: Cause, model: CourtModel, freed: Freed): Tried {
  const tried = tryColumn(model, causeColumn(cause, model.marks, freed.shiftsM))
  const sine = Math.sqrt(-Math.expm1(-2 * Math.abs(tried.size)))
  const leans = model.marks.flatMap(({ square, fitted }) =>
    square === null || !cause.touches(fitted)
      ? []
      : [{ lean: tried.size > 0 ? square.down : square.across, sine }],
  )
  return { ...tried, mayBeTurn: leanAgainst(leans, HELD_RAD) < READ_FROM ** 2 }
}

/** How much references lean under a camera that hangs higher, squared: as rho tells it, and against it what the corners' own lean says of that. */
function tryLookedDown(cause: Cause, model: CourtModel, freed: Freed): Tried {
  const { marks } = model
  const tried = tryColumn(model, causeColumn(cause, marks, freed.shiftsM))
  if (!(tried.size > 0)) return { ...tried, drop: 0 }
  const leans = marks.flatMap(({ square, fitted }) =>
    square === null ? [] : [{ lean: square.down, sine: Math.sqrt(tried.size) * leanPattern(cause, fitted) }],
  )
  return { ...tried, drop: Math.max(0, tried.drop - leanAgainst(leans, HELD_RAD)) }
}

/** A shift of distances bends: tried again from where it came to, as the slope is there. */
function tryShift(cause: Cause, model: CourtModel, freed: Freed): Tried {
  const { marks, chi2 } = model
  let shifted = freed
  let there = model
  let tried: Tried = { size: 0, u: Infinity, drop: 0 }
  const nearestM = Math.min(...marks.map(({ fitted }) => fitted.point.distanceM))
  for (let step = 0; step < SHIFT_STEPS; step++) {
    tried = tryColumn(there, causeColumn(cause, marks, shifted.shiftsM))
    if (!(tried.drop > 0)) return tried
    const size = Math.max(tried.size, -nearestM / 2)
    shifted = {
      ...freed,
      shiftsM: freed.shiftsM.map((by, i) => by + (cause.touches(marks[i]!.fitted) ? size : 0)),
    }
    there = courtModel(marks, shifted)
  }
  const last = tryColumn(there, causeColumn(cause, marks, shifted.shiftsM))
  return { ...last, drop: chi2 - (there.chi2 - last.drop) }
}

/** Corners rougher than stated scatter every number of every mark: twice the logarithm of likelihood, the widening counted. */
function tryRougher(model: CourtModel, freed: Freed): Tried {
  let best: Tried = { size: 1, u: 0, drop: 0 }
  for (const times of ROUGHNESS) {
    const { chi2, logDeterminant } = courtModel(model.marks, { ...freed, roughness: times })
    const drop = model.chi2 + model.logDeterminant - chi2 - logDeterminant
    if (drop > best.drop) best = { size: times, u: times / Math.sqrt(2 * NUMBERS * model.marks.length), drop }
  }
  return best
}
