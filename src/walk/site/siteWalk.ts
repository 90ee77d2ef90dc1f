import { ProofwalkError, ProofwalkErrors } from '../../errors.js'
import { mapFew } from '../../files/mapFew.js'
import type { WalkResults } from '../schemas/resultsSchema.js'
import { currentResults } from '../measure/currentResults.js'
import { readWalk } from '../read/readWalk.js'
import type { Walk } from '../read/walk.js'

/** One walk of a site: its results, or why there are none that belong to it. */
export interface SiteWalk {
  /** Its folder, as the user named it. */
  readonly dir: string
  readonly walk: Walk
  readonly results: WalkResults | null
  /** Of the bytes of its results.json; empty where there are none. */
  readonly resultsSha256: string
  /** Why there are no results; empty where there are. */
  readonly why: string
}

/** The date of a walk of a site: its results know what its stills say where walk.yaml says nothing. */
export function dateOfSite({ walk, results }: SiteWalk): string | null {
  return results === null ? walk.date : results.walk.date
}

/** How many walks are read at a time: enough to keep the disk and the hashing threads busy. */
const AT_A_TIME = 4

/**
 * Reads the walks of a site and holds their results against their files by hashes; nothing is measured.
 * @throws `ProofwalkErrors` with every fault of every walk that cannot be read
 */
export async function readSite(dirs: readonly string[]): Promise<SiteWalk[]> {
  const faults: ProofwalkError[] = []
  const walks = await mapFew(dirs, AT_A_TIME, async (dir) => {
    try {
      return await siteWalk(dir)
    } catch (error) {
      if (!(error instanceof ProofwalkError)) throw error
      faults.push(...(error instanceof ProofwalkErrors ? error.faults : [error]))
      return null
    }
  })
  if (faults.length > 0) throw new ProofwalkErrors(faults)
  return walks.filter((walk) => walk !== null)
}

async function siteWalk(dir: string): Promise<SiteWalk> {
  const walk = await readWalk(dir)
  const current = await currentResults(walk)
  return current.results === null
    ? { dir, walk, results: null, resultsSha256: '', why: current.why }
    : { dir, walk, results: current.results, resultsSha256: current.sha256, why: '' }
}
