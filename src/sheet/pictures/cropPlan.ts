import type { PixelRegion } from '../../still/raster.js'
import { counts } from '../../walk/site/comparableWalk.js'
import { isSameMark } from '../../walk/read/sameMark.js'
import type { FailedEntry, StillEntry, WalkResults } from '../../walk/schemas/resultsSchema.js'
import { referenceExtent, stillScalePxPerM } from './referenceExtent.js'
import { belongsTo, type Series, seriesOf, sortSeries } from '../../plot/series.js'

/** A part of a still in image coordinates, px; it may reach beyond the still's edge. */
export interface PictureWindow {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

/** One picture of the picture table. */
export interface PlannedCrop {
  readonly still: StillEntry
  /** How many stills of this mark there are; the picture is of the first by file name of those that count. */
  readonly stillCount: number
  /** What the cell shows: the same metres in every cell of the table. */
  readonly window: PictureWindow
  /** The whole pixels of the still that cover the window, where there are any. */
  readonly region: PixelRegion | null
}

export interface PlannedRow {
  readonly distanceM: number
  /** One per column of the table; null where there is no measured still. */
  readonly cells: readonly (PlannedCrop | null)[]
  /** One per column: a still that could not be measured, where there is nothing better to show. */
  readonly failed: readonly (FailedEntry | null)[]
}

/** Pictures that share one physical scale. */
export interface PlannedTable {
  readonly windowWidthM: number
  readonly windowHeightM: number
  readonly columns: readonly Series[]
  readonly rows: readonly PlannedRow[]
}

/**
 * Plans the picture table: which window of which still each cell shows. Every window of a table spans the same metres at the
 * reference, so that near and far compare; references of much different size (over 1 : 2) get a table each.
 */
export function cropPlan(results: WalkResults): PlannedTable[] {
  const series = seriesOf(results)
  const extents = new Map(
    [...new Set(series.map(({ reference }) => reference))].map((reference) => [
      reference,
      referenceExtent(results.stills.filter((still) => still.reference === reference)),
    ]),
  )
  return groupBySize(extents).map((references, index) => {
    const sizes = references.map((reference) => extents.get(reference) ?? { widthM: 0, heightM: 0 })
    const window = windowFor(
      Math.max(...sizes.map((size) => size.widthM)),
      Math.max(...sizes.map((size) => size.heightM)),
    )
    // What was never measured has no size: it stands with the largest.
    const belongsHere = ({ reference }: Series): boolean =>
      references.includes(reference) || (index === 0 && (extents.get(reference) ?? null) === null)
    const columns = sortSeries(results, [...series, ...failedSeries(results)].filter(belongsHere))
    return { ...window, columns, rows: planRows(results, columns, window) }
  })
}

/** The light and reference of every still that was not measured, where both are known. */
function failedSeries({ failed }: WalkResults): Series[] {
  return failed.flatMap(({ light, reference }) =>
    typeof light === 'string' && typeof reference === 'string' ? [{ light, reference }] : [],
  )
}

type Window = Pick<PlannedTable, 'windowWidthM' | 'windowHeightM'>

// Room around the reference for who holds it: eight tenths more, less around a tall staff (this project's convention).
function windowFor(widthM: number, heightM: number): Window {
  const around = Math.max(widthM, heightM) > 1 ? 1.3 : 1.8
  const windowWidthM = Math.max(around * widthM, 0.5 * around * heightM)
  return { windowWidthM, windowHeightM: Math.max(around * heightM, 0.5 * windowWidthM) }
}

function groupBySize(
  extents: ReadonlyMap<string, { readonly widthM: number; readonly heightM: number } | null>,
): string[][] {
  const sized = [...extents].flatMap(([reference, size]) =>
    size === null ? [] : [{ reference, sizeM: Math.max(size.widthM, size.heightM) }],
  )
  const groups: { largestM: number; references: string[] }[] = []
  for (const { reference, sizeM } of sized.sort((a, b) => b.sizeM - a.sizeM)) {
    const group = groups.find(({ largestM }) => sizeM >= largestM / 2)
    if (group === undefined) groups.push({ largestM: sizeM, references: [reference] })
    else group.references.push(reference)
  }
  return groups.map(({ references }) => references)
}

function planRows(results: WalkResults, columns: readonly Series[], window: Window): PlannedRow[] {
  const stills = results.stills
    .filter((still) => still.distance !== null && columns.some((series) => belongsTo(series, still)))
    .sort((a, b) => (a.file < b.file ? -1 : 1))
  const failures = results.failed
    .filter((one) => typeof one.distance === 'number' && columns.some((series) => failedIn(series, one)))
    .sort((a, b) => (a.file < b.file ? -1 : 1))
  const distances: number[] = []
  for (const distanceM of [...stills, ...failures].map((one) => one.distance ?? 0).sort((a, b) => a - b)) {
    const last = distances.at(-1)
    if (last === undefined || !isSameMark(distanceM, last)) distances.push(distanceM)
  }
  return distances.map((distanceM) => ({
    distanceM,
    cells: columns.map((series) => {
      const here = stills.filter(
        (still) =>
          belongsTo(series, still) && still.distance !== null && isSameMark(still.distance, distanceM),
      )
      const still = here.find(counts) ?? here[0]
      return still === undefined ? null : planCrop(still, here.length, window)
    }),
    failed: columns.map((series) => {
      const at = (one: FailedEntry): boolean => isSameMark(one.distance ?? NaN, distanceM)
      return failures.find((one) => failedIn(series, one) && at(one)) ?? null
    }),
  }))
}

function failedIn(series: Series, { light, reference }: FailedEntry): boolean {
  return light === series.light && reference === series.reference
}

function planCrop(still: StillEntry, stillCount: number, size: Window): PlannedCrop {
  const scale = stillScalePxPerM(still)
  const count = still.corners.length
  const centreX = still.corners.reduce((sum, [x]) => sum + x, 0) / count
  const centreY = still.corners.reduce((sum, [, y]) => sum + y, 0) / count
  const width = size.windowWidthM * scale
  const height = size.windowHeightM * scale
  const window = { left: centreX - width / 2, top: centreY - height / 2, width, height }
  const left = Math.max(0, Math.floor(window.left))
  const top = Math.max(0, Math.floor(window.top))
  const right = Math.min(still.width, Math.ceil(window.left + width))
  const bottom = Math.min(still.height, Math.ceil(window.top + height))
  const region =
    right > left && bottom > top ? { left, top, width: right - left, height: bottom - top } : null
  return { still, stillCount, window, region }
}
