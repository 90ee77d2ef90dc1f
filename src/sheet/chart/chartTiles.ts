/** A part of a chart's sheet that goes on one page, metres from the sheet's top left; it may reach beyond the sheet. */
interface ChartTile {
  readonly leftM: number
  readonly topM: number
  readonly row: number
  readonly column: number
}

/** How a chart's sheet is cut up. */
export interface TilePlan {
  readonly pageWidthM: number
  readonly pageHeightM: number
  readonly windowWidthM: number
  readonly windowHeightM: number
  readonly rows: number
  readonly columns: number
  /** Row by row. */
  readonly tiles: readonly ChartTile[]
}

// This project's convention: a margin every common printer leaves free with room for the marks, and enough overlap to glue.
export const TILE_MARGIN_M = 0.013
export const TILE_OVERLAP_M = 0.01

/** The plan with the fewest pages of a paper (held either way) that cover a sheet, what is over shared out evenly on both sides. */
export function planTiles(
  sheet: { readonly widthM: number; readonly heightM: number },
  page: { readonly widthM: number; readonly heightM: number },
): TilePlan {
  const lying = planHeld(sheet, page.widthM, page.heightM)
  const upright = planHeld(sheet, page.heightM, page.widthM)
  return upright.tiles.length < lying.tiles.length ? upright : lying
}

function planHeld(
  sheet: { readonly widthM: number; readonly heightM: number },
  pageWidthM: number,
  pageHeightM: number,
): TilePlan {
  const windowWidthM = pageWidthM - 2 * TILE_MARGIN_M
  const windowHeightM = pageHeightM - 2 * TILE_MARGIN_M
  const stepX = windowWidthM - TILE_OVERLAP_M
  const stepY = windowHeightM - TILE_OVERLAP_M
  const columns = Math.max(1, Math.ceil((sheet.widthM - TILE_OVERLAP_M) / stepX - 1e-9))
  const rows = Math.max(1, Math.ceil((sheet.heightM - TILE_OVERLAP_M) / stepY - 1e-9))
  const startX = (sheet.widthM - columns * stepX - TILE_OVERLAP_M) / 2
  const startY = (sheet.heightM - rows * stepY - TILE_OVERLAP_M) / 2
  const tiles = Array.from({ length: rows * columns }, (_, index): ChartTile => {
    const row = Math.floor(index / columns)
    const column = index % columns
    return { row, column, leftM: startX + column * stepX, topM: startY + row * stepY }
  })
  return { pageWidthM, pageHeightM, windowWidthM, windowHeightM, rows, columns, tiles }
}
