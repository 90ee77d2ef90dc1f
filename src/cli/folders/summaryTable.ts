import { withMend } from '../../sentences.js'
import { siteDensities, siteSentences, standingByPixels } from '../../sheet/site/siteWords.js'
import type { SiteSummary } from '../../walk/site/siteSummary.js'
import { sharedWords } from '../../walk/site/sharedPictures.js'
import { sharedSceneWords } from '../../walk/site/sharedScenes.js'
import { promisedName } from '../../grade/gradings/grading.js'
import { figuresFor } from '../../units/figures.js'
import { textTable } from '../terminal/textTable.js'

/** What `summary` prints: the sentence, walks without current results, then every promise, the worst first. */
export function summaryTable(summary: SiteSummary): string {
  const { walks, notCurrent, promises, withoutPromise, shared, scenes } = summary
  const simulated = walks.some(({ walk }) => walk.simulated) ? 'SIMULATED\n' : ''
  return [
    `${simulated}${siteSentences(summary).join('\n')}\n`,
    notCurrent.length === 0
      ? ''
      : `Without current results\n${notCurrent.map(({ dir, why }) => `  ${dir}: ${why}\n`).join('')}`,
    shared.length === 0
      ? ''
      : `One picture in two walks (same-picture)\n${shared.map((pair) => `  ${sharedWords(pair)}\n`).join('')}`,
    scenes.length === 0
      ? ''
      : `One scene under two cameras\n${scenes.map((pair) => `  ${sharedSceneWords(pair)}\n`).join('')}`,
    promises.length === 0 ? '' : promiseTable(summary),
    withoutPromise.length === 0
      ? ''
      : `Measured, and nothing was promised\n${withoutPromise.map(({ dir, walk }) => `  ${dir}: ${walk.camera.name}\n`).join('')}`,
  ]
    .filter((part) => part !== '')
    .join('\n')
}

function promiseTable(summary: SiteSummary): string {
  const densities = siteDensities(summary)
  const rows = summary.promises.map((one) => {
    const { site, promise } = one
    const { walk } = site
    return {
      cells: [
        promise.verdict,
        standingByPixels(one),
        walk.camera.id ?? '',
        walk.camera.name,
        promisedName(promise, walk.grading),
        figuresFor(walk.units).distance(promise.distance),
        promise.light,
        promise.reference ?? 'every',
        ...densities.cells(one, '-'),
        site.dir,
      ],
      note: promise.verdict === 'met' ? '' : withMend(promise.why, promise.mend),
    }
  })
  const head = ['verdict', 'by pixels', 'id', 'camera', 'promised', 'at', 'light', 'reference']
  const aligns = ['left', 'left', 'left', 'left', 'left', 'right', 'left', 'left'] as const
  return textTable([...head, densities.head, '95 %', 'limit', 'folder'], rows, [
    ...aligns,
    'right',
    'left',
    'right',
  ])
}
