import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { Figures } from '../../units/figures.js'
import { printedShare } from '../../units/printedShare.js'
import { promisedName } from '../../grade/gradings/grading.js'
import { estimateText, printedValue } from '../../units/printedEstimate.js'
import { ROW_WORDS } from '../../walk/trial/sentences.js'
import { oneLine } from '../../files/oneLine.js'
import { withMend } from '../../sentences.js'
import { textTable } from '../terminal/textTable.js'

type Reading = WalkResults['readings'][number]

/** What was promised to be read, with the share read there. */
export function readPromiseTable({ promises, grading }: WalkResults, figures: Figures): string {
  const rows = promises.flatMap((promise) => {
    const { kind, verdict, value, low, high, limit, light, reference, onOtherBasis, why, mend } = promise
    if (kind !== 'read') return []
    const read = value === null || low === null || high === null ? null : { value, low, high }
    const printed = read && printedShare(read, limit)
    const cells = [
      promisedName(promise, grading),
      figures.distance(promise.distance),
      light,
      reference ?? 'every',
      verdict,
      printed?.value ?? '-',
      printed === null ? '' : `${printed.low} to ${printed.high}`,
      onOtherBasis === null ? '-' : figures.density(onOtherBasis).value,
    ]
    return [{ cells, note: withMend(why, mend) }]
  })
  if (rows.length === 0) return ''
  const head = ['promised', 'at', 'light', 'reference', 'verdict', '% read', '95 %', figures.densityUnit]
  const aligns = ['left', 'right', 'left', 'left', 'left', 'right', 'left', 'right'] as const
  return `What must be read, shown blind\n${textTable(head, rows, aligns)}`
}

/** What readers read, blind: characters right at each mark, then how far it goes and who read. */
export function readingTable({ readings }: Pick<WalkResults, 'readings'>, figures: Figures): string {
  if (readings.length === 0) return ''
  const rows = readings.flatMap(({ light, reference, row, marks }) =>
    marks.map(({ distance, right, asked, share, low, high }) => ({
      cells: [
        light,
        reference,
        ROW_WORDS[row],
        figures.distance(distance),
        `${right} of ${asked}`,
        percent(share),
        `${percent(low)} to ${percent(high)}`,
      ],
    })),
  )
  const head = ['light', 'reference', 'read', 'mark', 'characters', '%', '95 %']
  const table = textTable(head, rows, ['left', 'left', 'left', 'right', 'right', 'right', 'left'])
  return `What was read, blind (intervals of marks take each character for itself)\n${table}${readings.map((one) => summary(one, figures)).join('')}`
}

function summary(reading: Reading, figures: Figures): string {
  const { light, reference, row, read95, read50, readers, agreement } = reading
  const reach = (read: Reading['read95']): string => {
    if (read === null) return 'not known'
    const { value, low, high } = figures.reach({ ...read, value: read.distance })
    return `${value} ${figures.lengthUnit} (${low} to ${high})`
  }
  const names = readers.map(({ reader, share }) => `${oneLine(reader)} ${percent(share)} %`)
  const agreed = agreement === null ? '' : `; two readers agree on ${percent(agreement)} % of characters`
  return `  ${light}, ${reference}, ${ROW_WORDS[row]}: 95 % to ${reach(read95)}, half to ${reach(read50)}, on average over readers and cards; ${names.join(', ')}${agreed}\n${reachedLine(reading, figures)}`
}

/** What was measured where 95 % were read, and what the grading asks for. */
function reachedLine({ reached }: Reading, figures: Figures): string {
  if (reached === null) return ''
  const { density, effectiveDensity, resolved, k } = reached
  const counted = (of: typeof density): string =>
    of === null ? 'not known' : `${figures.density(of).value} (${figures.interval(of)})`
  const parts = [
    `${counted(density)} ${figures.densityUnit}`,
    `${counted(effectiveDensity)} with detail`,
    `detail of ${resolved === null ? 'not known' : `${estimateText(resolved)} cycles per metre`}`,
    `k of ${k === null ? 'not known' : estimateText(k)}`,
  ]
  return `    there: ${parts.join(', ')}\n`
}

function percent(share: number): string {
  return printedValue(100 * share, 1)
}
