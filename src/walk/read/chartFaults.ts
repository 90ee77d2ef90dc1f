import { chartPaper } from '../../chart/printed/chartPapers.js'
import type { ProofwalkError } from '../../errors.js'
import { trueFrameWidthM } from '../../measure/reference/chartReference.js'
import { parseLength } from '../../units/parseLength.js'
import { fieldFault, type FaultyFile } from '../../files/schemaFaults.js'
import type { Said } from '../../sentences.js'
import { printedValue } from '../../units/printedEstimate.js'
import { readSays } from './sentences.js'
import { LETTERS_PAPER } from './walk.js'

/** A printer scales within these bounds; beyond them something else was taped. This project's convention. */
const SCALE_BOUNDS = { least: 0.5, most: 1.1 }

/** Why a taped width cannot be that of the paper's frame, metres; null where it can. */
export function printedWidthFault(paperId: string, printedWidthM: number): Said | null {
  const paper = chartPaper(paperId)
  if (paper === undefined) return null
  const trueM = trueFrameWidthM(paper)
  const scale = printedWidthM / trueM
  if (scale >= SCALE_BOUNDS.least && scale <= SCALE_BOUNDS.most) return null
  return readSays['chart-width'](Math.round(100 * scale), paper.name, printedValue(trueM * 1000, 1))
}

/** The faults of a reference's printed sheets as walk.yaml has them: a paper of no chart or strips, a width no print of it has. */
export function chartFaults(of: FaultyFile, name: string, group: Record<string, unknown>): ProofwalkError[] {
  const { printedWidth, strip, letters } = group
  const chart = group.chart ?? (typeof letters === 'string' ? LETTERS_PAPER : undefined)
  if (typeof strip === 'string' && chartPaper(strip) === undefined)
    return [fieldFault(of, ['references', name, 'strip'], readSays['unknown-paper'](strip))]
  if (typeof chart !== 'string') return []
  if (chartPaper(chart) === undefined)
    return [fieldFault(of, ['references', name, 'chart'], readSays['unknown-paper'](chart))]
  const width = typeof printedWidth === 'string' ? parseLength(printedWidth) : null
  const fault = width?.ok ? printedWidthFault(chart, width.value) : null
  return fault === null ? [] : [fieldFault(of, ['references', name, 'printedWidth'], fault)]
}
