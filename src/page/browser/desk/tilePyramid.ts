import { ROUTES, TILE_SIDE_PX } from '../../api.js'
import { address, fetchBlob } from '../state/callServer.js'
import type { Size, StillWindow } from './stillWindow.js'

/** Tiles kept of one still: a megabyte each, enough for a large screen and the way back. */
const MOST_TILES = 96
/** After so long a tile that did not come is asked for again, ms. */
const AGAIN_MS = 2000

interface Tile {
  /** Null while it is on its way. */
  picture: ImageBitmap | null
  usedAt: number
}

/** The pictures of a still at halved sizes, cut into tiles, fetched as they come into view. */
export interface TilePyramid {
  readonly file: string
  readonly still: Size
  /** Draws what is there of the still into a context scaled to CSS px, and asks for what is missing. `density`: device px a CSS px. */
  draw(context: CanvasRenderingContext2D, window: StillWindow, box: Size, density: number): void
  /** Whether anything of it can be drawn. */
  hasAny(): boolean
}

/** The pyramid of a still; `changed` is called whenever there is more to draw. */
export function tilePyramid(file: string, stamp: string, still: Size, changed: () => void): TilePyramid {
  const tiles = new Map<string, Tile>()
  const coarsest = Math.max(0, Math.ceil(Math.log2(Math.max(still.width, still.height) / TILE_SIDE_PX)))
  let clock = 0

  const tileAt = (level: number, x: number, y: number): Tile => {
    const key = `${level}/${x}/${y}`
    let tile = tiles.get(key)
    if (tile === undefined) {
      const fresh: Tile = { picture: null, usedAt: 0 }
      void fetchTile(address(ROUTES.tile, { file, stamp, level, x, y })).then((picture) => {
        fresh.picture = picture
        if (picture !== null) return changed()
        tiles.delete(key)
        // Drawn again in a while, and so asked for again where it is still in view.
        setTimeout(changed, AGAIN_MS)
      })
      tiles.set(key, fresh)
      tile = fresh
    }
    clock += 1
    tile.usedAt = clock
    return tile
  }

  const drawLevel = (
    context: CanvasRenderingContext2D,
    window: StillWindow,
    box: Size,
    density: number,
    level: number,
  ): void => {
    const levelWidth = Math.ceil(still.width / 2 ** level)
    const levelHeight = Math.ceil(still.height / 2 ** level)
    const [perX, perY] = [still.width / levelWidth, still.height / levelHeight]
    const right = window.left + box.width / window.scale
    const bottom = window.top + box.height / window.scale
    const range = (start: number, end: number, per: number, length: number): [number, number] => [
      Math.max(0, Math.floor(start / per / TILE_SIDE_PX)),
      Math.min(Math.ceil(length / TILE_SIDE_PX) - 1, Math.floor(end / per / TILE_SIDE_PX)),
    ]
    const [x0, x1] = range(window.left, right, perX, levelWidth)
    const [y0, y1] = range(window.top, bottom, perY, levelHeight)
    // Whole device pixels, so that neighbouring tiles meet without a seam.
    const device = (along: number, start: number): number =>
      Math.round((along - start) * window.scale * density) / density
    for (let y = y0; y <= y1; y++)
      for (let x = x0; x <= x1; x++) {
        const tile = tileAt(level, x, y)
        if (tile.picture === null) continue
        const left = device(x * TILE_SIDE_PX * perX, window.left)
        const top = device(y * TILE_SIDE_PX * perY, window.top)
        const endX = device(Math.min(levelWidth, (x + 1) * TILE_SIDE_PX) * perX, window.left)
        const endY = device(Math.min(levelHeight, (y + 1) * TILE_SIDE_PX) * perY, window.top)
        context.drawImage(tile.picture, left, top, endX - left, endY - top)
      }
  }

  const forget = (): void => {
    if (tiles.size <= MOST_TILES) return
    const oldest = [...tiles].sort(([, a], [, b]) => a.usedAt - b.usedAt).slice(0, tiles.size - MOST_TILES)
    for (const [key, { picture }] of oldest) {
      picture?.close()
      tiles.delete(key)
    }
  }

  return {
    file,
    still,
    draw(context, window, box, density) {
      const wanted = Math.floor(Math.log2(1 / (window.scale * density)) + 0.25)
      const level = Math.max(0, Math.min(coarsest, wanted))
      // Single pixels are what counts close up; farther off a smooth picture is easier to read.
      context.imageSmoothingEnabled = window.scale * density < 3
      context.imageSmoothingQuality = 'high'
      for (const under of new Set([coarsest, Math.min(coarsest, level + 1), level]))
        drawLevel(context, window, box, density, under)
      forget()
    },
    hasAny: () => [...tiles.values()].some(({ picture }) => picture !== null),
  }
}

/** Its pixels as they are, whatever the screen's colours. */
async function fetchTile(from: string): Promise<ImageBitmap | null> {
  const blob = await fetchBlob(from)
  return blob === null ? null : createImageBitmap(blob).catch(() => null)
}
