import type { PaperName } from '../input/sheetInput.js'

/** The page and the type area on it, points from the page's top left corner. */
export interface PageFrame {
  readonly widthPt: number
  readonly heightPt: number
  readonly left: number
  readonly right: number
  readonly top: number
  /** Nothing but the foot is printed below this line. */
  readonly bottom: number
}

const PAPER_PT: Readonly<Record<PaperName, readonly [number, number]>> = {
  A4: [595.28, 841.89],
  Letter: [612, 792],
}

const SIDE_PT = 51
const HEAD_PT = 66
const FOOT_PT = 58

/** The type area of a paper. */
export function pageFrame(paper: PaperName): PageFrame {
  const [widthPt, heightPt] = PAPER_PT[paper]
  return {
    widthPt,
    heightPt,
    left: SIDE_PT,
    right: widthPt - SIDE_PT,
    top: HEAD_PT,
    bottom: heightPt - FOOT_PT,
  }
}
