import { groupBy } from '../../math/groupBy.js'
import { countStills, type WalkResults } from '../../walk/schemas/resultsSchema.js'
import { asSentence } from '../../sentences.js'
import { sceneLines } from '../../grade/scene/sceneFindings.js'
import { sheetReadingOfResults } from '../../walk/lens/sheetReading.js'
import { planSays } from '../../walk/plan/sentences.js'
import { sheetSays } from '../sentences.js'
import { drawTable } from '../tables/dataTable.js'
import { estimateText, printedEstimate } from '../../units/printedEstimate.js'
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
  if (results.stills.length > 0) {
    drawParagraph(pen, projectionText(context), SMALL)
    drawParagraph(pen, sceneLines(results.scene, results.stills).map(asSentence).join(' '), SMALL)
  }
  if (sheetReadingOfResults(results.walk)?.inDoubt === true)
    drawParagraph(pen, asSentence(planSays['lens-in-doubt']().message), SMALL)
  drawTable(
    pen,
    [
      { head: 'Light and reference', share: 110 },
      { head: 'Measured, px per radian', share: 50, align: 'decimal' },
      { head: '95 % interval', share: 80, align: 'right', style: SMALL_GREY },
      { head: 'Data sheet, as read', share: 55, align: 'decimal' },
      { head: 'Data sheet, if rectilinear', share: 60, align: 'decimal' },
      { head: 'Distance that does not fit', share: 115 },
    ],
    results.lens.map((lens) => {
      const { value, low, high } = printedEstimate(lens.pixelsPerRadian)
      return {
        cells: [
          seriesText(lens),
          value,
          `${low} to ${high}`,
          promisedText(lens.promised?.asRead),
          promisedText(lens.promised?.rectilinear),
          suspectText(lens, context),
        ],
      }
    }),
  )
}

/** How corners were read: through which lens, and what is left unknown of it. */
function projectionText({ results }: SheetContext): string {
  const { projection } = results
  if (projection === null) return `${sheetSays['no-lens-correction']().message}.`
  const { p, low, high, from, stills, leftOut } = projection
  const perLight = projection.pixelsPerRadian.map((each) => `${each.light} ${estimateText(each)}`).join(', ')
  const value = estimateText({ value: p, low, high })
  const source = { stills, isWalk: from === 'walk' }
  return `${sheetSays['read-through-lens'](value, source, perLight, leftOut?.light ?? null).message}.`
}

function promisedText(value: number | null | undefined): string {
  return value === null || value === undefined ? '–' : value.toFixed(0)
}

function suspectText({ suspect }: WalkResults['lens'][number], { figures }: SheetContext): string {
  if (suspect === null) return 'none'
  return sheetSays['tape-does-not-fit'](figures.distance(suspect.distance), figures.distance(suspect.fits))
    .message
}

function exportSizes({ results }: SheetContext): string | null {
  const sizes = groupBy(results.stills, ({ width, height }) => `${width} × ${height} px`)
  const { image } = results.walk.camera
  const promised = image === null ? null : `${image.width} × ${image.height} px`
  if (sizes.size === 0 && promised === null) return null
  const measured = [...sizes].map(
    ([size, stills]) => `${size} on ${countStills(stills)} of ${countStills(results.stills)} stills`,
  )
  return `${sheetSays['export-size'](promised, measured).message}.`
}
