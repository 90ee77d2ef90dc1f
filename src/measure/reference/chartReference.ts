import { FRAME_HEIGHT_MODULES, FRAME_WIDTH_MODULES, moduleM } from '../../chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import type { ChartReference } from './reference.js'

/** Half-width of the frame's size, taped or printed at true scale, metres: this project's convention. */
const FRAME_TOLERANCE_M = 0.0005

/** The frame's outer width where a paper's chart is printed at true scale, metres. */
export function trueFrameWidthM(paper: ChartPaper): number {
  return FRAME_WIDTH_MODULES * moduleM(paper)
}

/**
 * The printed chart of a paper as a reference: the black frame's outer rectangle. A taped width, metres, scales both sides; without one (null)
 * true scale is taken. On corners given by a hand it is read as characters: dark on light, parted by their brightness.
 */
export function chartReference(
  name: string,
  paper: ChartPaper,
  printedWidthM: number | null,
): ChartReference {
  const widthM = printedWidthM ?? trueFrameWidthM(paper)
  return {
    kind: 'rectangle',
    name,
    widthM,
    heightM: (widthM * FRAME_HEIGHT_MODULES) / FRAME_WIDTH_MODULES,
    widthToleranceM: FRAME_TOLERANCE_M,
    heightToleranceM: FRAME_TOLERANCE_M,
    marking: 'characters',
    chart: { paper: paper.id, printedWidthM },
  }
}
