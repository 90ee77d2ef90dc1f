import { chartPaper, type ChartPaper } from '../../chart/printed/chartPapers.js'
import { FRAME_WIDTH_MODULES } from '../../chart/printed/chartGeometry.js'
import { asSentence, fault } from '../../sentences.js'
import { chartSays } from '../../chart/sentences.js'
import { printedSize } from '../../sheet/chart/drawChartWords.js'
import { cliSays } from '../sentences.js'
import { readSays } from '../../walk/read/sentences.js'
import { chartPdf } from '../../sheet/chart/chartPdf.js'
import { writeWhole } from '../../files/writeWhole.js'
import { writeLetterCards, type LetterOptions } from './letterCards.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options of `chart`, as typed. */
export interface ChartOptions extends LetterOptions {
  readonly paper?: string
  readonly out: string
  readonly tile?: string
  readonly dim?: true
  readonly strip?: true
}

/**
 * Writes the PDF of the chart, or of its strips, and says what to do with it.
 * @throws `ProofwalkError` `unknown-paper` where the paper is none of ours, `option-out-of-place` where strips shall be grey or an option of letter cards stands alone,
 * `letters-too-large`, `already-there`
 */
export async function chartFile(options: ChartOptions, terminal: Terminal): Promise<void> {
  const paper = paperOf(
    options.paper ?? regionPaper(Intl.DateTimeFormat().resolvedOptions().locale),
    '--paper',
  )
  const tile = options.tile === undefined ? null : paperOf(options.tile, '--tile')
  if (options.letters === true) return writeLetterCards(paper, tile, options, terminal)
  for (const option of ['cards', 'seed', 'height', 'stroke'] as const)
    if (options[option] !== undefined)
      throw fault(cliSays['option-out-of-place']('without-letters'), { field: `--${option}` })
  const strip = options.strip === true
  if (strip && options.dim === true)
    throw fault(cliSays['option-out-of-place']('dim-strips'), { field: '--dim' })
  await writeWhole(options.out, await chartPdf({ paper, tile, dim: options.dim === true, strip }))
  const frame = printedSize(paper, FRAME_WIDTH_MODULES)
  const order = tile === null ? `${asSentence(chartSays['order-print'](options.out, paper).message)}\n` : ''
  const told = strip
    ? `${options.out}: ${paper.name}, two strips ${frame} wide at true scale\n${order}` +
      `Next: print it at 100 % with the chart's printer, fix it flush under the chart or 100 mm (4 in) under the board, and add to that in walk.yaml: strip: ${paper.id}\n`
    : `${options.out}: ${paper.name}, black frame ${frame} wide at true scale\n${order}` +
      `Next: print it at 100 %, measure the frame, and write into walk.yaml: chart: { chart: ${paper.id}, printedWidth: <the width you measure> }\n`
  terminal.out(told)
  terminal.setStatus(0)
}

function paperOf(id: string, field: string): ChartPaper {
  const paper = chartPaper(id)
  if (paper !== undefined) return paper
  throw fault(readSays['unknown-paper'](id), { field })
}

/** Regions whose common office paper is Letter: Unicode CLDR, supplemental data, paperSize US-Letter. */
const LETTER_REGIONS = ['BZ', 'CA', 'CL', 'CO', 'CR', 'GT', 'MX', 'NI', 'PA', 'PH', 'PR', 'SV', 'US', 'VE']

/** The id of the common office paper where a locale (BCP 47, such as en-US) is at home: Letter or A4; A4 where the locale names no region. */
export function regionPaper(locale: string): 'A4' | 'Letter' {
  try {
    const region = new Intl.Locale(locale).maximize().region
    return region !== undefined && LETTER_REGIONS.includes(region) ? 'Letter' : 'A4'
  } catch {
    return 'A4'
  }
}
