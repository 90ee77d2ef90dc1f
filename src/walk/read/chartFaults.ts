import { CHART_PAPERS, chartPaper } from '../../chart/printed/chartPapers.js'
import type { ProofwalkError } from '../../errors.js'
import { trueFrameWidthM } from '../../measure/reference/chartReference.js'
import { parseLength } from '../../units/parseLength.js'
import { fieldFault, type FaultyFile } from '../../files/schemaFaults.js'

/** A printer scales within these bounds; beyond them something else was taped. This project's convention. */
const SCALE_BOUNDS = { least: 0.5, most: 1.1 }

/** Why a taped width cannot be that of the paper's frame, metres; null where it can. */
export function printedWidthFault(
  paperId: string,
  printedWidthM: number,
): { message: string; mend: string } | null {
  const paper = chartPaper(paperId)
  if (paper === undefined) return null
  const trueM = trueFrameWidthM(paper)
  const scale = printedWidthM / trueM
  if (scale >= SCALE_BOUNDS.least && scale <= SCALE_BOUNDS.most) return null
  const mm = (trueM * 1000).toFixed(1)
  return {
    message: `is ${Math.round(100 * scale)} % of the ${paper.name} chart's ${mm} mm, which no printer does`,
    mend: "tape the outer width of the black frame, not the sheet's",
  }
}

/** The mend for a paper there is no chart for. */
export const PAPER_MEND = `use one of ${CHART_PAPERS.map(({ id }) => id).join(', ')}`

/** The faults of a reference that is a chart as walk.yaml has it: a paper of no chart, a width no print of it has. */
export function chartFaults(of: FaultyFile, name: string, group: Record<string, unknown>): ProofwalkError[] {
  const { chart, printedWidth } = group
  if (typeof chart !== 'string') return []
  if (chartPaper(chart) === undefined) {
    const path = ['references', name, 'chart']
    return [fieldFault(of, path, 'unknown-paper', `there is no chart for paper "${chart}"`, PAPER_MEND)]
  }
  const width = typeof printedWidth === 'string' ? parseLength(printedWidth) : null
  const fault = width?.ok ? printedWidthFault(chart, width.value) : null
  if (fault === null) return []
  return [fieldFault(of, ['references', name, 'printedWidth'], 'chart-width', fault.message, fault.mend)]
}
