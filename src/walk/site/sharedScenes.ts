import { join } from 'node:path'
import { otherCamera } from '../../grade/compare/notComparable.js'
import { mapFew } from '../../files/mapFew.js'
import { type FindMatches, registerStills } from '../../scene/registerStills.js'
import { lumaOf } from '../../still/luma.js'
import { openStill } from '../../still/openStill.js'
import { withMatches } from '../scene/sceneWitness.js'
import type { StillOfScene } from '../scene/sceneOfStills.js'
import { placedStill, standingStills } from './sceneOfWalks.js'
import type { SharedPictures } from './sharedPictures.js'
import type { SiteWalk } from './siteWalk.js'

/** One scene, seen from one place or nearly, in the walks of two cameras: their folders, and a still of each. */
export interface SharedScene {
  readonly dirs: readonly [string, string]
  readonly files: readonly [string, string]
}

/** A print is this many px across and one less down: whether each is lighter than its right neighbour. */
const PRINT_PX = 9
/** Prints that differ in more than so many of 64 are of two scenes; those that do not are looked at. This project's convention. */
const MOST_BITS = 14
/** So many pairs are looked at, some half a second each. */
const MOST_PAIRS = 60
const AT_A_TIME = 4

interface Printed extends StillOfScene {
  /** Its file as in the walk. */
  readonly name: string
  readonly print: readonly boolean[]
}

/** Stills of two walks that may show one scene, and in how many bits their prints differ. */
interface AlikePair {
  readonly dirs: readonly [string, string]
  readonly stills: readonly [Printed, Printed]
  readonly bits: number
}

/**
 * Which walks of two cameras show one scene from one place, a still of each light being laid over the other's where small prints of both are alike, the most alike first;
 * those that share pictures are told already. Of what is too dark or too bare to be registered nothing is told.
 */
export async function sharedScenes(
  walks: readonly SiteWalk[],
  shared: readonly SharedPictures[],
): Promise<SharedScene[]> {
  const told = new Set(shared.map(({ dirs }) => JSON.stringify(dirs)))
  const printed = await mapFew(walks, AT_A_TIME, printedStills)
  const pairs = walks.flatMap((one, index) =>
    walks.flatMap((other, later): AlikePair[] => {
      const dirs = [one.dir, other.dir] as const
      const isOther = otherCamera(one.walk.camera, other.walk.camera) !== null
      if (later <= index || !isOther || told.has(JSON.stringify(dirs))) return []
      return alikePairs(printed[index]!, printed[later]!).map((pair) => ({ dirs, ...pair }))
    }),
  )
  const nearest = pairs.toSorted((a, b) => a.bits - b.bits).slice(0, MOST_PAIRS)
  const scenes = new Map<string, SharedScene>()
  await withMatches(
    ({ file }) => file,
    null,
    async (match) => {
      for (const { dirs, stills } of nearest) {
        const [one, other] = stills
        const key = JSON.stringify(dirs)
        if (scenes.has(key)) continue
        const find: FindMatches = (way, parts) => match(one, other, way, parts)
        const { motion } = await registerStills(find, 'inside', null, one)
        if (motion !== null) scenes.set(key, { dirs, files: [one.name, other.name] })
      }
    },
  )
  const order = (dir: string): number => walks.findIndex((walk) => walk.dir === dir)
  return [...scenes.values()].sort(
    (a, b) => order(a.dirs[0]) - order(b.dirs[0]) || order(a.dirs[1]) - order(b.dirs[1]),
  )
}

/** A pair in one line. */
export function sharedSceneWords({ dirs, files }: SharedScene): string {
  return `${dirs[0]}/${files[0]} and ${dirs[1]}/${files[1]} show one scene, as one camera would, or two side by side`
}

/** The farthest still of each light with its print; none of one that is no longer what was measured. */
async function printedStills({ dir, results }: SiteWalk): Promise<Printed[]> {
  const stills = (results?.walk.lights ?? []).flatMap((light) => standingStills(results!, light).slice(0, 1))
  const printed: Printed[] = []
  for (const still of stills) {
    const opened = await openStill(join(dir, still.file))
    if (!opened.ok || opened.value.sha256 !== still.sha256) continue
    const reduced = await opened.value.reduced(PRINT_PX, PRINT_PX - 1).catch(() => null)
    if (reduced === null) continue
    const print = printOf(lumaOf(reduced, 3, 255))
    printed.push({ ...placedStill(still, dir), name: still.file, print })
  }
  return printed
}

function printOf(luma: ArrayLike<number>): boolean[] {
  return Array.from({ length: PRINT_PX * (PRINT_PX - 1) }, (_, i) => i)
    .filter((i) => i % PRINT_PX < PRINT_PX - 1)
    .map((i) => luma[i]! > luma[i + 1]!)
}

function alikePairs(
  ones: readonly Printed[],
  others: readonly Printed[],
): Pick<AlikePair, 'stills' | 'bits'>[] {
  return ones.flatMap((one) =>
    others
      .filter(({ width, height }) => width === one.width && height === one.height)
      .map((other) => {
        const bits = other.print.filter((bit, i) => bit !== one.print[i]).length
        return { stills: [one, other] as const, bits }
      })
      .filter(({ bits }) => bits <= MOST_BITS),
  )
}
