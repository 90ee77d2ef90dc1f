import type { Estimate } from '../../math/interval.js'
import type { PixelRegion } from '../../still/raster.js'
import type { PictureWindow, PlannedCrop } from './cropPlan.js'
import { drawCornerTicks } from './cornerTicks.js'
import type { Pen } from '../document/pen.js'
import type { PictureSizes } from './pictureSizes.js'
import { countStills, type StillEntry } from '../../walk/schemas/resultsSchema.js'
import { judgesDetail } from '../input/detailColumns.js'
import { isSameMark } from '../../walk/read/sameMark.js'
import { type Series, seriesText } from '../../plot/series.js'
import type { SheetContext } from '../input/sheetContext.js'
import type { SheetCrop } from '../input/sheetInput.js'
import { tagged, within } from '../document/tagged.js'
import { baselineBelow, drawLine, lineHeightPt, textWidthPt, wrapText } from '../document/text.js'
import { GREY, LINE_PT, SMALL, SMALL_GREY, SMALL_STRONG, TINY_GREY } from '../document/typography.js'
import { gradeText } from '../input/walkFacts.js'

/** A caption may be this wide below a narrower picture, points. */
const LEAST_CAPTION_PT = 84

/** One cell: the picture with its corner ticks, density and grade below; or the words that there is none. */
export function drawPictureCell(
  pen: Pen,
  context: SheetContext,
  series: Series,
  distanceM: number,
  planned: PlannedCrop | null,
  crop: SheetCrop | undefined,
  leftPt: number,
  size: PictureSizes,
): void {
  if (planned === null || planned.region === null || crop === undefined) {
    const text = planned === null ? 'no still' : 'no picture'
    within(pen, 'TD', () => {
      tagged(pen, 'P', () => drawLine(pen.doc, text, leftPt, baselineBelow(pen.y, SMALL_GREY), SMALL_GREY))
      if (planned !== null) drawCaption(pen, context, series, distanceM, planned, leftPt, size)
    })
    return
  }
  const bottom = pen.y + size.heightPt
  within(pen, 'TD', () => {
    tagged(
      pen,
      'Figure',
      () => {
        drawPicture(pen, planned, crop, leftPt, size)
        drawCornerTicks(pen.doc, planned, leftPt, pen.y, size)
      },
      {
        alt: pictureAlt(context, series, distanceM, planned),
        bbox: [leftPt, pen.y, leftPt + size.widthPt, bottom],
      },
    )
    drawCaption(pen, context, series, distanceM, planned, leftPt, size)
  })
}

function drawPicture(
  pen: Pen,
  planned: PlannedCrop,
  crop: SheetCrop,
  leftPt: number,
  size: PictureSizes,
): void {
  const { doc } = pen
  const place = cropPlacement(planned.window, crop.region, size)
  doc.save().rect(leftPt, pen.y, size.widthPt, size.heightPt).clip()
  doc.image(Buffer.from(crop.image), leftPt + place.left, pen.y + place.top, {
    width: place.width,
    height: place.height,
  })
  doc.restore()
  doc.lineWidth(LINE_PT.hair).rect(leftPt, pen.y, size.widthPt, size.heightPt).stroke(GREY)
}

function drawCaption(
  pen: Pen,
  context: SheetContext,
  series: Series,
  distanceM: number,
  planned: PlannedCrop,
  leftPt: number,
  size: PictureSizes,
): void {
  const { doc } = pen
  const { results, figures } = context
  const mark = results.marks.find(
    (one) =>
      one.light === series.light && one.reference === series.reference && isSameMark(one.distance, distanceM),
  )
  const density = mark?.density ?? onTarget(planned.still)
  const judged = gradeText(results.grading, mark === undefined ? planned.still.grade : mark.grade)
  const basis = judgesDetail(results) ? 'detail' : 'pixels'
  const named = judged === 'not judged' ? judged : `${judged} (${basis})`
  const grade = mark?.leftOut === true ? 'left out' : (lostText(planned.still) ?? named)
  const top = pen.y + size.heightPt + 2
  const baseline = (line: number): number => baselineBelow(top, SMALL, line)
  const printed = figures.density(density)
  const value = `${printed.value} ${figures.densityUnit}`
  const interval = `${printed.low}–${printed.high}`
  const notes = [...(planned.stillCount > 1 ? [`first of ${planned.stillCount} stills`] : [])].join(', ')
  const captionWidth = Math.max(size.widthPt, Math.min(size.columnPt, LEAST_CAPTION_PT))
  const right = leftPt + captionWidth
  tagged(pen, 'P', () => {
    drawLine(doc, value, leftPt, baseline(0), SMALL)
    const room = captionWidth - textWidthPt(doc, value, SMALL) - 6
    const style = [SMALL_GREY, TINY_GREY].find((one) => textWidthPt(doc, interval, one) <= room)
    if (style !== undefined) drawLine(doc, interval, right, baseline(0), style, 'right')
    drawLine(
      doc,
      wrapText(doc, grade, size.columnPt, SMALL_STRONG, 1)[0] ?? '',
      leftPt,
      baseline(1),
      SMALL_STRONG,
    )
    // Every picture says so itself, cut out or not.
    if (context.simulated) {
      // Beneath where the grade takes its room.
      const beside = captionWidth - textWidthPt(doc, grade, SMALL_STRONG) - 4
      const line = textWidthPt(doc, 'SIMULATED', TINY_GREY) <= beside ? 1 : 2
      drawLine(doc, 'SIMULATED', right, baseline(line), TINY_GREY, 'right')
    }
    if (notes !== '') {
      const [line = ''] = wrapText(doc, notes, size.columnPt, TINY_GREY, 1)
      drawLine(doc, line, leftPt, baselineBelow(top + 2 * lineHeightPt(SMALL), TINY_GREY), TINY_GREY)
    }
  })
}

/** A still's own density with its interval. */
function onTarget({ density }: StillEntry): Estimate {
  return { value: density.onTarget, low: density.low, high: density.high }
}

function pictureAlt(
  { results, figures, simulated }: SheetContext,
  series: Series,
  distanceM: number,
  planned: PlannedCrop,
): string {
  const still = planned.still
  const kind = simulated ? 'Simulated still' : 'Still'
  return (
    `${kind} ${still.file}: the ${series.reference} at ${figures.distance(distanceM)} in the light "${series.light}"; ` +
    `${figures.density(onTarget(still)).value} ${figures.densityUnit}, ${gradeText(results.grading, still.grade)}` +
    `, one of ${countStills(results.stills)} stills. ${seriesText(series)}.`
  )
}

/** What a buyer reads under a picture on which nothing stands out; null where something does, or it could not be told. */
function lostText({ usable, problems }: PlannedCrop['still']): string | null {
  if (usable !== false) return null
  const words = {
    'washed-out': 'washed out',
    'too-noisy': 'lost in noise',
    'no-two-levels': 'nothing stands out',
  }
  const told = Object.entries(words).find(([lost]) => problems.some(({ code }) => code === lost))
  return told?.[1] ?? null
}

/** Where a picture of `region` goes in a cell that shows `window`, points from the cell's top left corner. */
export function cropPlacement(
  window: PictureWindow,
  region: PixelRegion,
  cell: { readonly widthPt: number; readonly heightPt: number },
): PictureWindow {
  const perPx = cell.widthPt / window.width
  return {
    left: (region.left - window.left) * perPx,
    top: (region.top - window.top) * (cell.heightPt / window.height),
    width: region.width * perPx,
    height: region.height * (cell.heightPt / window.height),
  }
}
