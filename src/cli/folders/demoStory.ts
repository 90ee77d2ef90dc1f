import type { MaybeBound } from '../../math/interval.js'
import type { DemoRole } from '../../simulate/demo/demoScenario.js'
import type { StillEntry, WalkResults } from '../../walk/schemas/resultsSchema.js'
import { gradeNameOf } from '../../grade/gradings/grading.js'
import { figuresOf } from '../../units/figures.js'

/** Which file plays which part in the demonstration. */
export type DemoRoles = Readonly<Record<DemoRole, string>>

/**
 * The seven things of the demonstration that squinting at its stills would have missed, a sentence each, every figure and verdict read from the
 * results: where the measuring says otherwise, so does the sentence.
 */
export function demoStory(results: WalkResults, roles: DemoRoles): string[] {
  return [
    dataSheet(results),
    limit(results, entryOf(results, roles['at-the-limit'])),
    infrared(results, entryOf(results, roles['plate-at-white']), entryOf(results, roles['board-beside-it'])),
    blownUp(results, entryOf(results, roles['blown-up'])),
    tape(results, entryOf(results, roles['wrong-tape'])),
    focus(results, entryOf(results, roles['sharp-by-day']), entryOf(results, roles['soft-under-infrared'])),
    knock(results, entryOf(results, roles.knocked)),
  ]
}

function entryOf(results: WalkResults, file: string): StillEntry {
  const entry = results.stills.find((still) => still.file === file)
  if (entry === undefined) throw new Error(`the demonstration's ${file} was not measured`)
  return entry
}

function dataSheet({ findings }: WalkResults): string {
  const told = findings.filter(({ code }) => code.startsWith('angle') || code === 'lens-against-sheet')
  return `the data sheet: ${told.map(({ message }) => message).join('; ') || 'it agrees with itself'}`
}

function limit(results: WalkResults, still: StillEntry): string {
  const promise = results.promises.find(
    ({ distance, light }) => distance === still.distance && light === still.light,
  )
  if (promise === undefined || promise.value === null || promise.low === null || promise.high === null)
    return `${place(results, still)}: nothing was promised there`
  const figures = figuresOf(results)
  const { value, low, high } = promise
  const interval = `${figures.interval({ value, low, high })} ${figures.densityUnit}`
  return `${place(results, still)}: ${gradeNameOf(promise.grade, results.grading)} is ${promise.verdict}: ${interval} against ${figures.bareLimit(promise.limit)}`
}

function infrared(results: WalkResults, plate: StillEntry, board: StillEntry): string {
  const white = plate.problems.find(({ code }) => code === 'washed-out')
  const byPixels = (still: StillEntry): string => gradeNameOf(still.gradeByPixels, results.grading)
  const [onPlate, onBoard] = [
    white?.message ?? `${byPixels(plate)} by pixels`,
    `reaches ${byPixels(board)} by pixels${board.usable === true ? ' and stands out' : ''}`,
  ]
  return `${place(results, plate)}: the plate: ${onPlate}; the board beside it ${onBoard}`
}

function blownUp(results: WalkResults, still: StillEntry): string {
  const figures = figuresOf(results)
  const pixels = gradeNameOf(still.gradeByPixels, results.grading)
  const counted = (density: MaybeBound): string => `${figures.density(density).value} ${figures.densityUnit}`
  const effective = still.effectiveDensity === null ? '-' : counted(still.effectiveDensity)
  const byPixels = counted({ ...still.density, value: still.density.onTarget })
  return `${place(results, still)}: a blown-up export: ${pixels} by its ${byPixels}, of which ${effective}${still.bound === true ? ' at most' : ''} carry detail`
}

function tape(results: WalkResults, still: StillEntry): string {
  const suspect = results.lens.find(
    (lens) => lens.light === still.light && lens.reference === still.reference,
  )?.suspect
  if (suspect === null || suspect === undefined)
    return `${place(results, still)}: its distance fits the others`
  const { distance } = figuresOf(results)
  return `${place(results, still)}: the distance was measured wrongly: the ${distance(suspect.distance)} mark fits ${distance(suspect.fits)}, so it was left out`
}

function focus(results: WalkResults, day: StillEntry, infrared: StillEntry): string {
  const f10 = ({ sharpness }: StillEntry): number | null =>
    sharpness === null ? null : Math.min(sharpness.horizontal.mtf10, sharpness.vertical.mtf10)
  const [byDay, under] = [f10(day), f10(infrared)]
  if (byDay === null || under === null)
    return `${place(results, infrared)}: the chart's detail could not be measured`
  const said = `contrast of the chart's edges falls to 10 % at ${under.toFixed(2)} cycles per pixel, by day at ${byDay.toFixed(2)}`
  return `${place(results, infrared)}: ${said}: the lens ${under < 0.9 * byDay ? 'focuses elsewhere under infrared' : 'holds its focus'}`
}

function knock(results: WalkResults, still: StillEntry): string {
  const told = results.findings.find(({ code, light }) => code === 'camera-turned' && light === still.light)
  return told?.message ?? `${place(results, still)}: nothing shows that the camera was knocked`
}

function place(results: WalkResults, still: StillEntry): string {
  return `${still.light}, ${figuresOf(results).distance(still.distance ?? NaN)}`
}
