import { siteSentence, type SiteSummary } from '../../walk/site/siteSummary.js'
import { limitFigure } from '../../units/measures.js'
import { densityAgainst, distanceText, gradeNameOf } from '../../units/oldFigures.js'
import { textTable } from '../terminal/textTable.js'

/** What `summary` prints: the sentence, walks without current results, then every promise, the worst first, in px/m as its limit is. */
export function summaryTable(summary: SiteSummary): string {
  const { walks, notCurrent, promises, withoutPromise } = summary
  const simulated = walks.some(({ walk }) => walk.simulated) ? 'SIMULATED\n' : ''
  return [
    `${simulated}${siteSentence(summary)}\n`,
    notCurrent.length === 0
      ? ''
      : `Without current results\n${notCurrent.map(({ dir, why }) => `  ${dir}: ${why}\n`).join('')}`,
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
    const against = (density: number | null): string =>
      density === null ? '-' : densityAgainst(density, promise.limit)
    return {
      cells: [
        promise.verdict,
        walk.camera.id ?? '',
        walk.camera.name,
        gradeNameOf(promise.grade, walk.grading),
        distanceText(promise.distance, walk.units),
        promise.light,
        promise.reference ?? 'every',
        against(promise.value),
        promise.low === null ? '' : `${against(promise.low)} to ${against(promise.high)}`,
        limitFigure(promise.limit),
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
