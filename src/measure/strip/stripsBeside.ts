import {
  FIELD,
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
  moduleM,
} from '../../chart/printed/chartGeometry.js'
import { chartPaper, type ChartPaper } from '../../chart/printed/chartPapers.js'
import { STRIP_COVERAGE, stripSheetBelow } from '../../chart/printed/stripSheet.js'
import type { FlatView } from '../../lens/flatView.js'
import { boxTo } from '../../math/homography.js'
import { failure, type Outcome } from '../../math/outcome.js'
import type { Point, Quad } from '../../math/point.js'
import { linearFromCode } from '../../math/srgb.js'
import type { PixelRegion, StillPixels } from '../../still/raster.js'
import type { MeasuredChart } from '../chart/measureChart.js'
import { isChart, type RectangleReference } from '../reference/reference.js'
import type { ToneElement } from '../stillMeasurement.js'
import { SEARCHED } from './findSheet.js'
import { readStrips, type NoStrips, type ReadStrips, type StripSheet } from './readStrips.js'
import { stripSays } from './sentences.js'
import { INK } from './stripFigures.js'
import { sheetPlane } from './sheetPlane.js'

/** A rectangle that carries a sheet of strips, `strip` being its paper. */
export type StripReference = RectangleReference & { readonly strip: string }

/** How far a print may spread or shrink the lines of the faint strip, relative to its contrast (half-width): this project's convention. */
const PRINT_REL = 0.04
/** How far under a board its sheet is fixed, metres: nearer, the white paper would hide the board's lower edge. This project's convention. */
const UNDER_BOARD_M = 0.1

/**
 * Reads the sheet of strips fixed in the middle under a reference, flush with a chart's own sheet. `corners`: of the reference, px of the still, clockwise from its own top left. Only its own surroundings are
 * decoded.
 * @throws what reading the pixels throws
 */
export async function stripsBeside(
  still: StillPixels,
  reference: StripReference,
  corners: Quad,
  chart: MeasuredChart | null,
  elements: readonly ToneElement[],
): Promise<Outcome<ReadStrips, NoStrips>> {
  const paper = chartPaper(reference.strip)!
  const lies = chart === null ? { corners, view: null } : chart.fit
  const sheet = sheetUnder(reference, paper, lies.corners, lies.view)
  const region = regionOf(sheet, still)
  if (region === null) return failure(stripSays['strip-not-seen']())
  const raster = await still.region(region)
  const tones = chart?.tones ?? null
  // What toner is on the paper beside it is known of the chart's own lines alone.
  const spread = chart?.lineSpread ?? 0
  return readStrips(raster, sheet, {
    elements,
    toLight: tones === null ? linearFromCode : (code) => INK + (1 - INK) * tones.toLight(code),
    coverage: STRIP_COVERAGE.faint + spread,
    coverageRel: PRINT_REL,
  })
}

/** Where the sheet lies on the plane of the reference it is fixed under. A chart and its strips are taken to be printed at one scale. */
function sheetUnder(
  reference: RectangleReference,
  paper: ChartPaper,
  corners: Quad,
  view: FlatView | null,
): StripSheet {
  const { widthM, heightM } = reference
  const chart = isChart(reference) ? chartPaper(reference.chart.paper)! : null
  const scale = chart === null ? 1 : widthM / (FRAME_WIDTH_MODULES * moduleM(chart))
  const module = moduleM(paper) * scale
  const marginM =
    chart === null ? UNDER_BOARD_M : ((chart.heightM - FRAME_HEIGHT_MODULES * moduleM(chart)) / 2) * scale
  // The field lies in the middle of its sheet.
  const bottom = (FIELD.height - stripSheetBelow(paper)) / 2 - marginM / module
  const box = {
    left: FIELD.width / 2 - widthM / 2 / module,
    right: FIELD.width / 2 + widthM / 2 / module,
    top: bottom - heightM / module,
    bottom,
  }
  return { map: boxTo(box, corners), view, paper, moduleM: module }
}

/** The pixels among which the sheet is looked for; null where none of them lie in the still. */
function regionOf({ map, view }: StripSheet, { width, height }: StillPixels): PixelRegion | null {
  const plane = sheetPlane(map, view)
  const places = [SEARCHED.left, SEARCHED.right].flatMap((x) =>
    [SEARCHED.top, SEARCHED.bottom].map((y) => plane?.toPicture(x, y) ?? null),
  )
  const seen = places.filter((place): place is Point => place !== null)
  if (seen.length < places.length) return null
  const [xs, ys] = [seen.map(([x]) => x), seen.map(([, y]) => y)]
  const [left, top] = [Math.floor(Math.min(...xs)) - 2, Math.floor(Math.min(...ys)) - 2]
  const region = {
    left,
    top,
    width: Math.ceil(Math.max(...xs)) + 2 - left,
    height: Math.ceil(Math.max(...ys)) + 2 - top,
  }
  const isSeen = left < width && top < height && left + region.width > 0 && top + region.height > 0
  return isSeen ? region : null
}
