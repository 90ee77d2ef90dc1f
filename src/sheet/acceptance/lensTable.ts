import { groupBy } from '../../math/groupBy.js'
import { countStills, type WalkResults } from '../../walk/schemas/resultsSchema.js'
import { drawTable } from '../tables/dataTable.js'
import { distanceText, lengthIn, trimmed } from '../../units/measures.js'
import type { Pen } from '../document/pen.js'
import { drawParagraph, drawSubhead } from '../document/prose.js'
import { seriesText } from '../../plot/series.js'
import type { SheetContext } from '../input/sheetContext.js'
import { SMALL, SMALL_GREY } from '../document/typography.js'

/** Lens and export size, promised by the data sheet against measured on the walk. */
export function drawLensTable(pen: Pen, context: SheetContext): void {
  const { results } = context
  const sizes = exportSizes(context)
  if (results.lens.length === 0 && sizes === null) return
  drawSubhead(pen, 'Lens and export size: promised against measured', results.lens.length > 0 ? 120 : 50)
  if (sizes !== null) drawParagraph(pen, sizes, SMALL)
  if (results.stills.length > 0) drawParagraph(pen, projectionText(context), SMALL)
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

/** How corners were read: through which lens, and what is left unknown of it. */
function projectionText({ results }: SheetContext): string {
  const { projection } = results
  if (projection === null)
    return 'Corners were read as they lie: the projection of the lens is not known well enough, so its greatest bend stands in every uncertainty.'
  const { p, low, high, from, stills, leftOut } = projection
  const lights = projection.pixelsPerRadian
    .map(
      (each) => `${each.light} ${each.value.toFixed(0)} (${each.low.toFixed(0)} to ${each.high.toFixed(0)})`,
    )
    .join(', ')
  const source =
    from === 'walk'
      ? `measured from ${stills} stills of this walk`
      : `the data sheet’s fields of view, with which the ${stills} stills of this walk agree`
  const without = leftOut === null ? '' : ` One mark’s tape does not fit and was left out (${leftOut.light}).`
  return `Corners were read through the lens: projection p ${p.toFixed(2)} (${low.toFixed(2)} to ${high.toFixed(2)}; 1 draws straight lines straight, 0 spreads angles evenly), ${source}; px per radian in the middle of the picture: ${lights}.${without} What is left unknown of it stands in every uncertainty.`
}

function promisedText(value: number | null | undefined): string {
  return value === null || value === undefined ? '–' : value.toFixed(0)
}

function suspectText({ suspect }: WalkResults['lens'][number], { measures }: SheetContext): string {
  if (suspect === null) return 'none'
  return `${distanceText(measures, suspect.distance)} mark fits ${trimmed(lengthIn(measures, suspect.fits), 1)} ${measures.lengthUnit}; left out`
}

function exportSizes({ results }: SheetContext): string | null {
  const sizes = groupBy(results.stills, ({ width, height }) => `${width} × ${height} px`)
  const { image } = results.walk.camera
  const promised = image === null ? null : `${image.width} × ${image.height} px`
  if (sizes.size === 0) return promised === null ? null : `Export size promised: ${promised}. None measured.`
  const measured = [...sizes].map(
    ([size, stills]) => `${size} on ${countStills(stills)} of ${countStills(results.stills)} stills`,
  )
  return `Export size promised: ${promised ?? 'not stated'}. Measured: ${measured.join('; ')}.`
}
