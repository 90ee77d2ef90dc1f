import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import { barEdges, STRIP_BOXES, type StripTone } from '../../chart/printed/stripSheet.js'
import { pxPerModule, type LinearPicture, type SheetPlane } from './sheetPlane.js'
import { stripBands } from './stripBands.js'
import type { StripFrame } from './stripFit.js'
import { stripPixels, type StripPixels } from './stripPixels.js'

/** A strip's pixels, and how they stand to its pattern. */
export interface SeenStrip {
  readonly pixels: StripPixels
  readonly frame: StripFrame
  readonly pxPerModule: { readonly along: number; readonly across: number }
  readonly lengthPx: number
  readonly heightPx: number
  /** Whether it lies along the picture's rows rather than its columns. */
  readonly isLevel: boolean
}

/** Rows so near the long sides are left out, px, and what ends may run into the paper. */
const INSET_PX = 1.7
const MOST_INSET = 0.3
const ENDS_PX = 2

/** The pixels of one of the two strips of a sheet on a plane. */
export function seeStrip(
  picture: LinearPicture,
  plane: SheetPlane,
  paper: ChartPaper,
  tone: StripTone,
): SeenStrip {
  const box = STRIP_BOXES[tone]
  const [middleX, middleY] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2]
  const scale = pxPerModule(plane, middleX, middleY) ?? { along: 0, across: 0, isLevel: true }
  const inset = Math.min(INSET_PX / scale.across, MOST_INSET * (box.bottom - box.top))
  const pixels = stripPixels(picture, plane, {
    left: box.left - ENDS_PX / scale.along,
    right: box.right + ENDS_PX / scale.along,
    top: box.top + inset,
    bottom: box.bottom - inset,
  })
  const lengthPx = (box.right - box.left) * scale.along
  const edgesPx = barEdges(paper).map((edge) => (edge - box.left) * scale.along)
  return {
    pixels,
    frame: {
      bands: stripBands(edgesPx, lengthPx),
      pxPerModule: scale.along,
      box,
      sheet: { ...STRIP_BOXES.faint, bottom: STRIP_BOXES.black.bottom },
    },
    pxPerModule: scale,
    lengthPx,
    heightPx: (box.bottom - box.top) * scale.across,
    isLevel: scale.isLevel,
  }
}
