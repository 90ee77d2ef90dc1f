import { join } from 'node:path'
import { HAND_SIGMA_PX } from '../../measure/reference/pick.js'
import { isSamePicture } from '../../still/samePicture.js'
import type { StillEntry } from '../schemas/resultsSchema.js'
import { type LookedAt, lookingAgain, suspectedPairs } from '../stills/lookAgain.js'

/** Pictures that stand in two walks: their folders, the first one's file in each, and how many there are. */
export interface SharedPictures {
  readonly dirs: readonly [string, string]
  readonly files: readonly [string, string]
  readonly count: number
  /** False where it is their noise that is one, as of a picture encoded again. */
  readonly certain: boolean
}

/** A walk's folder and the entries of its stills. */
export interface WalkStills {
  readonly dir: string
  readonly stills: readonly StillEntry[]
}

/** Which walks of a site hold the same pictures, by the hashes of their bytes and pixels: each pair once, in the walks' order. */
export function sharedPictures(walks: readonly WalkStills[]): SharedPictures[] {
  return pairsOf(walks).flatMap(([{ dir, stills }, later]): SharedPictures[] => {
    const pairs = stills.flatMap((still) => {
      const other = later.stills.find((one) => isSamePicture(still, one))
      return other === undefined ? [] : [[still.file, other.file] as const]
    })
    return sharedBy([dir, later.dir], pairs, true)
  })
}

/** So many pairs of stills are looked at, a tenth of a second each. This project's convention. */
const MOST_PAIRS = 60

interface StillOfWalk extends LookedAt {
  readonly dir: string
  readonly name: string
}

/**
 * Which walks may hold the same pictures, encoded again or cut out: stills whose references lie in one place and whose noise is one. Of walks that share pictures
 * for certain nothing more is told.
 */
export async function alikePictures(
  walks: readonly WalkStills[],
  certain: readonly SharedPictures[],
): Promise<SharedPictures[]> {
  const told = new Set(certain.map(({ dirs }) => JSON.stringify(dirs)))
  const isAsked = (one: StillOfWalk, other: StillOfWalk): boolean =>
    one.dir !== other.dir && !told.has(JSON.stringify([one.dir, other.dir]))
  const suspected = suspectedPairs(walks.flatMap(stillsOfWalk), isAsked).slice(0, MOST_PAIRS)
  const alike = new Set(await lookingAgain('')(suspected))
  return pairsOf(walks).flatMap(([{ dir }, later]): SharedPictures[] => {
    const pairs = suspected
      .filter((pair) => alike.has(pair))
      .map(({ one, other }) => (one.dir === dir ? ([one, other] as const) : ([other, one] as const)))
      .filter(([one, other]) => one.dir === dir && other.dir === later.dir)
      .map(([one, other]) => [one.name, other.name] as const)
    return sharedBy([dir, later.dir], pairs, false)
  })
}

/** The stills of a walk with their paths; a light is its own walk's, for another's stills may show another scene. Whatever it is called, one reference is held against another. */
function stillsOfWalk({ dir, stills }: WalkStills): StillOfWalk[] {
  return stills
    .filter(({ light, sameAs }) => light !== null && sameAs === null)
    .map(({ file, sha256, light, width, height, blocks, corners }) => ({
      dir,
      name: file,
      file: join(dir, file),
      sha256,
      light: JSON.stringify([dir, light]),
      reference: '',
      measurement: { width, height, blocks: blocks ?? [], corners: corners.map(([x, y]) => [x, y] as const) },
      measuredOn: { pick: { sigmaPx: HAND_SIGMA_PX } },
    }))
}

function pairsOf(walks: readonly WalkStills[]): [WalkStills, WalkStills][] {
  return walks.flatMap((walk, index) =>
    walks.slice(index + 1).map((later): [WalkStills, WalkStills] => [walk, later]),
  )
}

function sharedBy(
  dirs: readonly [string, string],
  pairs: readonly (readonly [string, string])[],
  certain: boolean,
): SharedPictures[] {
  const [first] = pairs
  const count = new Set(pairs.map(([file]) => file)).size
  return first === undefined ? [] : [{ dirs, files: first, count, certain }]
}

/** A pair in one line: "a/stills/day/4m.jpg and b/stills/day/4m.jpg are one picture, and so are 2 more of these two walks". */
export function sharedWords({ dirs, files, count, certain }: SharedPictures): string {
  const are = certain ? 'are' : 'may be'
  const more = count === 1 ? '' : `, and so ${are} ${count - 1} more of these two walks`
  const how = certain ? '' : ', encoded again'
  return `${dirs[0]}/${files[0]} and ${dirs[1]}/${files[1]} ${are} one picture${how}${more}`
}
