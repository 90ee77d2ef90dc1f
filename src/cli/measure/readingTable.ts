import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { Figures } from '../../units/figures.js'
import { printedValue } from '../../units/printedEstimate.js'
import { ROW_WORDS } from '../../walk/trial/sentences.js'
import { oneLine } from '../../files/oneLine.js'
import { textTable } from '../terminal/textTable.js'

type Reading = WalkResults['readings'][number]

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
  return `  ${light}, ${reference}, ${ROW_WORDS[row]}: 95 % to ${reach(read95)}, half to ${reach(read50)}, on average over readers and cards; ${names.join(', ')}${agreed}\n`
}

function percent(share: number): string {
  return printedValue(100 * share, 1)
}
