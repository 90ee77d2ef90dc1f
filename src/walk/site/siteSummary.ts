import type { Verdict } from '../../grade/judgement.js'
import { worstFirst } from '../../grade/promises/verdictOrder.js'
import type { WalkResults } from '../schemas/resultsSchema.js'
import { alikePictures, sharedPictures, type SharedPictures } from './sharedPictures.js'
import { sharedScenes, type SharedScene } from './sharedScenes.js'
import type { SiteWalk } from './siteWalk.js'

type Promised = WalkResults['promises'][number]

/** A promise of one of the site's walks. */
export interface SitePromise {
  readonly site: SiteWalk
  readonly promise: Promised
}

/** What walks show twice, under two names. */
export interface ShownTwice {
  /** Pictures that stand in two of the walks. */
  readonly shared: readonly SharedPictures[]
  /** Scenes that stand in walks of two cameras. */
  readonly scenes: readonly SharedScene[]
}

/** A site as a whole: its walks in the order given, and all their promises, the worst first. */
export interface SiteSummary extends ShownTwice {
  readonly walks: readonly SiteWalk[]
  readonly promises: readonly SitePromise[]
  /** Walks whose results are not there or do not belong to their files. */
  readonly notCurrent: readonly SiteWalk[]
  /** Walks that were measured and had no promise. */
  readonly withoutPromise: readonly SiteWalk[]
}

/** What walks show under two names: pictures by their hashes, and where stills are `looked` at, those encoded again, and scenes. */
export async function shownTwice(walks: readonly SiteWalk[], looked: boolean): Promise<ShownTwice> {
  const stills = walks.map(({ dir, results }) => ({ dir, stills: results?.stills ?? [] }))
  const certain = sharedPictures(stills)
  if (!looked) return { shared: certain, scenes: [] }
  const shared = [...certain, ...(await alikePictures(stills, certain))]
  return { shared, scenes: await sharedScenes(walks, shared) }
}

/** Puts the walks of a site together; `looked` as for `shownTwice`. */
export async function siteSummary(walks: readonly SiteWalk[], looked: boolean): Promise<SiteSummary> {
  const promises = walks.flatMap((site) =>
    (site.results?.promises ?? []).map((promise): SitePromise => ({ site, promise })),
  )
  return {
    walks,
    promises: promises.sort((one, other) => worstFirst(one.promise, other.promise)),
    notCurrent: walks.filter(({ results }) => results === null),
    withoutPromise: walks.filter(({ results }) => results?.promises.length === 0),
    ...(await shownTwice(walks, looked)),
  }
}

/** How many promises of a site have a verdict. */
export function countOf({ promises }: Pick<SiteSummary, 'promises'>, verdict: Verdict): number {
  return promises.filter(({ promise }) => promise.verdict === verdict).length
}
