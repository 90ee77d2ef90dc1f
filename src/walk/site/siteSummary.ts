import type { Verdict } from '../../grade/judgement.js'
import { worstFirst } from '../../grade/promises/verdictOrder.js'
import type { WalkResults } from '../schemas/resultsSchema.js'
import { sharedPictures, type SharedPictures } from './sharedPictures.js'
import type { SiteWalk } from './siteWalk.js'

type Promised = WalkResults['promises'][number]

/** A promise of one of the site's walks. */
export interface SitePromise {
  readonly site: SiteWalk
  readonly promise: Promised
}

/** A site as a whole: its walks in the order given, and all their promises, the worst first. */
export interface SiteSummary {
  readonly walks: readonly SiteWalk[]
  readonly promises: readonly SitePromise[]
  /** Walks whose results are not there or do not belong to their files. */
  readonly notCurrent: readonly SiteWalk[]
  /** Walks that were measured and had no promise. */
  readonly withoutPromise: readonly SiteWalk[]
  /** Pictures that stand in two of the walks. */
  readonly shared: readonly SharedPictures[]
}

/** Puts the walks of a site together. */
export function siteSummary(walks: readonly SiteWalk[]): SiteSummary {
  const promises = walks.flatMap((site) =>
    (site.results?.promises ?? []).map((promise): SitePromise => ({ site, promise })),
  )
  return {
    walks,
    promises: promises.sort((one, other) => worstFirst(one.promise, other.promise)),
    notCurrent: walks.filter(({ results }) => results === null),
    withoutPromise: walks.filter(({ results }) => results?.promises.length === 0),
    shared: sharedPictures(walks.map(({ dir, results }) => ({ dir, stills: results?.stills ?? [] }))),
  }
}

/** How many promises of a site have a verdict. */
export function countOf({ promises }: Pick<SiteSummary, 'promises'>, verdict: Verdict): number {
  return promises.filter(({ promise }) => promise.verdict === verdict).length
}
