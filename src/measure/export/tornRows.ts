import type { ByteImage } from '../../still/searchBytes.js'

/** Tiles looked at, px; rows that lie apart from both their neighbours, which are alike, have this ratio of squares: noise alone has 3. This project's convention. */
const TILE = { width: 64, height: 32 } as const
const LEAST_RATIO = 8
/** Mean square a tile needs of what a row differs from its neighbours, code values squared. */
const LEAST_SQUARE = 100

/** Whether rows somewhere in a picture lie apart from those above and below, which go together: what moved between two fields. Fine level lines look so too. */
export function hasTornRows({ width, height, data }: ByteImage): boolean {
  for (let top = 1; top + TILE.height < height; top += TILE.height)
    for (let left = 0; left + TILE.width <= width; left += TILE.width) {
      let [apart, alike] = [0, 0]
      for (let row = top; row < top + TILE.height; row += 1)
        for (let at = row * width + left; at < row * width + left + TILE.width; at += 1) {
          const [over, under] = [data[at - width]!, data[at + width]!]
          apart += (2 * data[at]! - over - under) ** 2
          alike += (over - under) ** 2
        }
      const isMuch = apart > 4 * LEAST_SQUARE * TILE.width * TILE.height
      if (isMuch && apart > LEAST_RATIO * alike) return true
    }
  return false
}
