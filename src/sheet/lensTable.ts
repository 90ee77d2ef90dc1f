import type { WalkResults } from '../walk/resultsSchema.js'
import { drawTable } from './dataTable.js'
import { distanceText, lengthIn, trimmed } from '../units/measures.js'
import type { Pen } from './pen.js'
import { drawParagraph, drawSubhead } from './prose.js'
import { seriesText } from './series.js'
import type { SheetContext } from './sheetContext.js'
import { SMALL, SMALL_GREY } from './typography.js'

/** Lens and export size, promised by the data sheet against measured on the walk. */
export function drawLensTable(pen: Pen, context: SheetContext): void {
  const { results } = context
  const sizes = exportSizes(context)
  if (results.lens.length === 0 && sizes === null) return
  drawSubhead(pen, 'Lens and export size: promised against measured', 50)
  if (sizes !== null) drawParagraph(pen, sizes, SMALL)
  drawTable(
    pen,
    [
      { head: 'Light and reference', share: 110 },
      { head: 'Measured, px per radian', share: 50, align: 'decimal' },
      { head: '95 % interval', share: 80, align: 'right', style: SMALL_GREY },
      { head: 'Data sheet, as read', share: 55, align: 'decimal' },
      { head: 'Data sheet, if rectilinear', share: 60, align: 'decimal' },
      { head: 'Tape that does not fit', share: 115 },
    ],
    results.lens.map((lens) => ({
      cells: [
        seriesText(lens),
        lens.pixelsPerRadian.value.toFixed(0),
        `${lens.pixelsPerRadian.low.toFixed(0)} to ${lens.pixelsPerRadian.high.toFixed(0)}`,
        promisedText(lens.promised?.asRead),
        promisedText(lens.promised?.rectilinear),
        suspectText(lens, context),
      ],
    })),
  )
}

function promisedText(value: number | null | undefined): string {
  return value === null || value === undefined ? '–' : value.toFixed(0)
}

function suspectText({ suspect }: WalkResults['lens'][number], { measures }: SheetContext): string {
  if (suspect === null) return 'none'
  return `${distanceText(measures, suspect.distance)} mark fits ${trimmed(lengthIn(measures, suspect.fits), 1)} ${measures.lengthUnit}; left out`
}

function exportSizes({ results }: SheetContext): string | null {
  const sizes = new Map<string, number>()
  for (const { width, height } of results.stills) {
    const size = `${width} × ${height} px`
    sizes.set(size, (sizes.get(size) ?? 0) + 1)
  }
  const { image } = results.walk.camera
  const promised = image === null ? null : `${image.width} × ${image.height} px`
  if (sizes.size === 0) return promised === null ? null : `Export size promised: ${promised}. None measured.`
  const measured = [...sizes].map(([size, count]) => `${size} on ${count} of ${results.stills.length} stills`)
  return `Export size promised: ${promised ?? 'not stated'}. Measured: ${measured.join('; ')}.`
}
