import { ProofwalkErrors } from '../../errors.js'
import { siteSays } from './sentences.js'
import { sharedWords } from './sharedPictures.js'
import { sharedSceneWords } from './sharedScenes.js'
import { shownTwice } from './siteSummary.js'
import { readSite, type SiteWalk } from './siteWalk.js'
import { leftOut, matching, notMatching, type VerificationCheck } from './verification.js'

/**
 * Whether two of some walks' folders show one picture, or the walks of two cameras one scene; `looked` as for `shownTwice`. A folder whose results do not
 * stand is held against none.
 */
export async function verifyBetween(dirs: readonly string[], looked: boolean): Promise<VerificationCheck[]> {
  const walks: SiteWalk[] = []
  const unread: VerificationCheck[] = []
  for (const dir of dirs) {
    const walk = await readOne(dir)
    if (walk === null || walk.results === null) unread.push(leftOut(dir, siteSays['not-held-between']()))
    else walks.push(walk)
  }
  const { shared, scenes } = await shownTwice(walks, looked)
  const twice = [
    ...shared.map((pair) => notMatching('one picture', siteSays['shown-twice'](sharedWords(pair)))),
    ...scenes.map((pair) => notMatching('one scene', siteSays['shown-twice'](sharedSceneWords(pair)))),
  ]
  if (twice.length > 0 || walks.length < 2) return [...unread, ...twice]
  return [...unread, matching('one picture, one scene', siteSays['nothing-twice'](looked))]
}

async function readOne(dir: string): Promise<SiteWalk | null> {
  try {
    return (await readSite([dir]))[0] ?? null
  } catch (error) {
    if (error instanceof ProofwalkErrors) return null
    throw error
  }
}
