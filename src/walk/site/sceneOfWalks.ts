import { join } from 'node:path'
import type { ComparedScene } from '../../grade/compare/comparison.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import { centredLens } from '../../lens/knownLens.js'
import { registerStills } from '../../scene/registerStills.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import { foretelling, sheetReadingOfResults } from '../lens/sheetReading.js'
import { lensOfWalk } from '../lens/walkLens.js'
import { isSameMark } from '../read/sameMark.js'
import type { StillOfScene } from '../scene/sceneOfStills.js'
import { withMatches } from '../scene/sceneWitness.js'
import type { StillEntry, WalkResults } from '../schemas/resultsSchema.js'
import { counts } from './comparableWalk.js'
import { judgedStillOf } from './judgedStillOf.js'

/** A walk's folder and its results. */
export interface WalkWithResults {
  readonly dir: string
  readonly results: WalkResults
}

/** Two stills of one light, the one from the walk before, the other from the walk after. */
export interface ScenePair {
  readonly light: string
  readonly before: StandingStill
  readonly after: StandingStill
}

/** A still with its light and mark. */
type StandingStill = StillEntry & { readonly light: string; readonly distance: number }

/**
 * Registers, of each light that both walks show, one still after against one before, as one light against another: a year changes shadows and leaves. Lights of
 * which nothing is told are not there.
 */
export async function sceneOfWalks(
  before: WalkWithResults,
  after: WalkWithResults,
): Promise<ComparedScene[]> {
  const scene: ComparedScene[] = []
  await withMatches(
    ({ file }) => file,
    null,
    async (match) => {
      for (const pair of scenePairs(before.results, after.results)) {
        const [one, other] = [placed(pair.before, before.dir), placed(pair.after, after.dir)]
        const lens = lensOf(before.results, pair.light)
        const own = lens === null ? null : centredLens(lens, one.width, one.height)
        const { motion } = await registerStills(
          (way, parts) => match(one, other, way, parts),
          'between',
          own,
          one,
        )
        if (motion !== null) scene.push({ light: pair.light, ...motion })
      }
    },
  )
  return roundNumbers(scene)
}

/** The pair of each light that is held against each other: at the farthest mark that both show, where the walker hides least, and of one size. */
export function scenePairs(before: WalkResults, after: WalkResults): ScenePair[] {
  return before.walk.lights.flatMap((light) => {
    const [ones, others] = [standing(before, light), standing(after, light)]
    const pairs = ones.flatMap((one) =>
      others.filter((other) => isOneSize(one, other)).map((other) => ({ light, before: one, after: other })),
    )
    const atOneMark = pairs.find((pair) => isSameMark(pair.before.distance, pair.after.distance))
    return atOneMark ?? pairs[0] ?? []
  })
}

/** The stills of a light that count and stand as most of them do, farthest first. */
function standing({ stills, scene }: WalkResults, light: string): StandingStill[] {
  const elsewhere = new Set(scene?.stills.filter(({ group }) => group > 0).map(({ file }) => file))
  return stills
    .filter((still): still is StandingStill => still.light === light && still.distance !== null)
    .filter((still) => counts(still) && !elsewhere.has(still.file))
    .toSorted((a, b) => b.distance - a.distance)
}

function isOneSize(one: StillEntry, other: StillEntry): boolean {
  return one.width === other.width && one.height === other.height
}

function placed({ file, sha256, light, distance, width, height }: StandingStill, dir: string): StillOfScene {
  return { file: join(dir, file), sha256, light, distanceM: distance, width, height }
}

/** The lens by which a turn is told in degrees: the walk's own, or the data sheet's where that is not in doubt; null where neither tells how it bends. */
function lensOf(results: WalkResults, light: string): CameraLens | null {
  const { projection } = results
  if (projection !== null) {
    const own = projection.pixelsPerRadian.find((one) => one.light === light) ?? projection.pixelsPerRadian[0]
    if (own !== undefined) return { p: projection.p, pixelsPerRadian: own.value, centreX: 0, centreY: 0 }
  }
  const reading = foretelling(sheetReadingOfResults(results.walk))
  if ((reading?.lens ?? null) === null) return null
  return lensOfWalk(
    results.lens,
    reading,
    results.stills.flatMap((still) => judgedStillOf(still, results) ?? []),
  )
}
