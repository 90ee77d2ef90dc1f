import { countStills } from '../schemas/resultsSchema.js'
import { dateOfSite } from './siteWalk.js'
import { countOf, type SiteSummary } from './siteSummary.js'

/** What `summary --json` prints: every walk in the order given, with its promises, and every promise again, the worst first, by its walk's folder. */
export function summaryJson(summary: SiteSummary): unknown {
  return {
    counts: {
      cameras: summary.walks.length,
      promises: summary.promises.length,
      met: countOf(summary, 'met'),
      notMet: countOf(summary, 'not met'),
      notShown: countOf(summary, 'not shown'),
      notCurrent: summary.notCurrent.length,
    },
    walks: summary.walks.map((site) => {
      const { dir, walk, results, why } = site
      return {
        dir,
        site: walk.site,
        camera: { name: walk.camera.name, id: walk.camera.id, serial: walk.camera.serial },
        date: dateOfSite(site),
        simulated: walk.simulated,
        grading: walk.grading.id,
        current: results !== null,
        why,
        stills: results === null ? null : countStills(results.stills),
        promises: results?.promises.length ?? null,
      }
    }),
    samePictures: summary.shared,
    promises: summary.promises.map(({ site, promise }) => ({ dir: site.dir, ...promise })),
  }
}
