import { siteSentence, type SiteSummary } from '../../walk/site/siteSummary.js'
import { sharedWords } from '../../walk/site/sharedPictures.js'
import { sharedSceneWords } from '../../walk/site/sharedScenes.js'
import { limitsOf, promisedName } from '../../grade/gradings/grading.js'
import { figuresFor } from '../../units/figures.js'
import { textTable } from '../terminal/textTable.js'

/** What `summary` prints: the sentence, walks without current results, then every promise, the worst first, in px/m as its limit is. */
export function summaryTable(summary: SiteSummary): string {
  const { walks, notCurrent, promises, withoutPromise, shared, scenes } = summary
  const simulated = walks.some(({ walk }) => walk.simulated) ? 'SIMULATED\n' : ''
  return [
    `${simulated}${siteSentence(summary)}\n`,
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

function promiseTable({ promises }: SiteSummary): string {
  const rows = promises.map(({ site, promise }) => {
    const { walk } = site
    const inMetres = figuresFor('metric', limitsOf(walk.grading))
    const { value, low, high } = promise
    const density = value === null || high === null ? null : { value, low, high }
    return {
      cells: [
        promise.verdict,
        walk.camera.id ?? '',
        walk.camera.name,
        promisedName(promise, walk.grading),
        figuresFor(walk.units).distance(promise.distance),
        promise.light,
        promise.reference ?? 'every',
        density === null ? '-' : inMetres.density(density).value,
        density === null ? '' : inMetres.interval(density),
        inMetres.bareLimit(promise.limit),
        site.dir,
      ],
      note: promise.verdict === 'met' ? '' : promise.why,
    }
  })
  const head = [
    'verdict',
    'id',
    'camera',
    'promised',
    'at',
    'light',
    'reference',
    'px/m',
    '95 %',
    'limit',
    'folder',
  ]
  const aligns = ['left', 'left', 'left', 'left', 'right', 'left', 'left', 'right', 'left', 'right'] as const
  return textTable(head, rows, [...aligns])
}
