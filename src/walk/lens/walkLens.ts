import type { JudgedStill, LensResult } from '../../grade/judgement.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import { centredLens, type KnownLens } from '../../lens/knownLens.js'
import type { LensReading } from '../../lens/dataSheet.js'
import { measureDensity } from '../../measure/density/density.js'
import { countedDetail } from '../../measure/surface/countedDetail.js'
import { effectiveDensity } from '../../measure/surface/effectiveDensity.js'
import type { Pick } from '../../measure/reference/pick.js'
import type { Reference } from '../../measure/reference/reference.js'
import type { StillMeasurement } from '../../measure/stillMeasurement.js'

/**
 * The lens to tell poses by: pixels per radian as the walk measured them where they are best known, else as the data sheet says; the
 * projection as the data sheet reads, else rectilinear. Pose and facing density hardly depend on it: what a wrong F does to the distance it undoes
 * in the density. Null where neither is known.
 */
export function lensOfWalk(
  measured: readonly LensResult[],
  reading: LensReading | null,
  stills: readonly JudgedStill[],
): CameraLens | null {
  const spread = ({ pixelsPerRadian: { value, low, high } }: LensResult): number => (high - low) / value
  const [best] = [...measured].sort((a, b) => spread(a) - spread(b))
  const pixelsPerRadian = best?.pixelsPerRadian.value ?? reading?.lens?.pixelsPerRadian ?? null
  const first = stills[0]?.measurement
  if (pixelsPerRadian === null || first === undefined) return null
  return {
    p: reading?.lens?.p ?? 1,
    pixelsPerRadian,
    centreX: first.width / 2,
    centreY: first.height / 2,
  }
}

/** The measurement with pose and facing density through a lens; all else stays as it was measured. */
export function posedThroughLens(
  measurement: StillMeasurement,
  reference: Reference,
  pick: Pick,
  distanceM: number,
  lens: CameraLens,
): StillMeasurement {
  const posed = measureDensity(reference, pick, {
    stillWidth: measurement.width,
    stillHeight: measurement.height,
    distanceM,
    lens: { ...lens, centreX: measurement.width / 2, centreY: measurement.height / 2 },
  })
  if (!posed.ok) return measurement
  const { density, pose } = posed.value
  return { ...measurement, pose, density: { ...measurement.density, facing: density.facing } }
}

/**
 * The measurement with its points read through a known lens: density, pose and what follows from them anew, sharpness and tone as they were measured (the size of
 * the element that must stand out is then that of the density before, a few percent off at most). Null where the lens shows no view of the reference.
 */
export function readThroughLens(
  measurement: StillMeasurement,
  reference: Reference,
  pick: Pick,
  distanceM: number,
  known: KnownLens,
): StillMeasurement | null {
  const { width, height } = measurement
  const read = measureDensity(reference, pick, {
    stillWidth: width,
    stillHeight: height,
    distanceM,
    known: { ...known, lens: centredLens(known.lens, width, height) },
  })
  if (!read.ok) return null
  const { budget, density, problems } = read.value
  if ((budget.horizontal ?? budget.along)?.lens === undefined) return null
  const detail = countedDetail({ ...measurement, density })
  return {
    ...measurement,
    ...read.value,
    effectiveDensity: detail === null ? null : effectiveDensity(density, detail),
    problems: [...measurement.problems.filter(({ code }) => !DENSITY_CODES.has(code)), ...problems],
  }
}

/** What the measuring of density tells: told anew with it. */
const DENSITY_CODES: ReadonlySet<string> = new Set([
  'corners-begin-elsewhere',
  'height-decides',
  'pose-unknown',
])
