import { isSamePicture } from '../../still/samePicture.js'
import type { StillEntry } from '../schemas/resultsSchema.js'

/** Pictures that stand in two walks: their folders, the first one's file in each, and how many there are. */
export interface SharedPictures {
  readonly dirs: readonly [string, string]
  readonly files: readonly [string, string]
  readonly count: number
}

/** Which walks of a site hold the same pictures, by the hashes of their bytes and pixels: each pair once, in the walks' order. */
export function sharedPictures(
  walks: readonly { readonly dir: string; readonly stills: readonly StillEntry[] }[],
): SharedPictures[] {
  return walks.flatMap(({ dir, stills }, index) =>
    walks.slice(index + 1).flatMap((later): SharedPictures[] => {
      const pairs = stills.flatMap((still) => {
        const other = later.stills.find((one) => isSamePicture(still, one))
        return other === undefined ? [] : [[still.file, other.file] as const]
      })
      const [first] = pairs
      const count = new Set(pairs.map(([file]) => file)).size
      return first === undefined ? [] : [{ dirs: [dir, later.dir], files: first, count }]
    }),
  )
}

/** A pair in one line: "a/stills/day/4m.jpg and b/stills/day/4m.jpg are one picture, and so are 2 more of these two walks". */
export function sharedWords({ dirs, files, count }: SharedPictures): string {
  const more = count === 1 ? '' : `, and so are ${count - 1} more of these two walks`
  return `${dirs[0]}/${files[0]} and ${dirs[1]}/${files[1]} are one picture${more}`
}
