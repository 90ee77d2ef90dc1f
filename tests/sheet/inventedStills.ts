import sharp from 'sharp'
import { success, type Outcome } from '../../src/math/outcome.js'
import type { CropOptions, CroppedPicture } from '../../src/still/cropPicture.js'
import type { PixelRegion } from '../../src/still/raster.js'
import { cutCrops } from '../../src/sheet/pictures/cutCrops.js'
import type { SheetCrop } from '../../src/sheet/input/sheetInput.js'
import type { StillEntry, WalkResults } from '../../src/walk/schemas/resultsSchema.js'

/** The sheet's crops of an invented walk, cut by the real `cutCrops` from stills that are drawn where they are asked for. */
export function inventedCrops(results: WalkResults): Promise<SheetCrop[]> {
  return cutCrops(results, (file) => Promise.resolve(openInvented(results, file)))
}

function openInvented(
  results: WalkResults,
  file: string,
): Outcome<{ crop(region: PixelRegion, options: CropOptions): Promise<CroppedPicture> }> {
  const still = results.stills.find((entry) => entry.file === file)!
  return success({ crop: (region, options) => draw(still, region, options) })
}

// A figure holds a board or a plate with six dark strokes before a plain ground; grey and lighter under infrared.
async function draw(still: StillEntry, region: PixelRegion, options: CropOptions): Promise<CroppedPicture> {
  const infrared = still.light === 'infrared'
  const at = ([x, y]: readonly [number, number]): string => `${x - region.left},${y - region.top}`
  const [a, b, , d] = still.corners as [
    [number, number],
    [number, number],
    [number, number],
    [number, number],
  ]
  const inside = (u: number, v: number): [number, number] => [
    a[0] + u * (b[0] - a[0]) + v * (d[0] - a[0]),
    a[1] + u * (b[1] - a[1]) + v * (d[1] - a[1]),
  ]
  const strokes = [0.1, 0.25, 0.4, 0.55, 0.7, 0.85]
    .map((u) =>
      [inside(u, 0.2), inside(u + 0.06, 0.2), inside(u + 0.06, 0.8), inside(u, 0.8)].map(at).join(' '),
    )
    .map((points) => `<polygon points="${points}" fill="${still.usable === false ? '#f4f4f4' : '#222'}"/>`)
  const [headX, headY] = inside(0.5, -0.6)
  const scale = still.density.onTarget
  const body = `${at([headX - 0.25 * scale, headY + 0.1 * scale])} ${at([headX + 0.25 * scale, headY + 0.1 * scale])} ${at([headX + 0.3 * scale, headY + 2 * scale])} ${at([headX - 0.3 * scale, headY + 2 * scale])}`
  const { width, height } = region
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">
    <rect width="100%" height="60%" fill="${infrared ? '#333' : '#8b9aa3'}"/>
    <rect y="60%" width="100%" height="40%" fill="${infrared ? '#555' : '#77736a'}"/>
    <polygon points="${body}" fill="${infrared ? '#999' : '#3c4a57'}"/>
    <circle cx="${headX - region.left}" cy="${headY - region.top}" r="${0.12 * scale}" fill="${infrared ? '#ccc' : '#c9a58c'}"/>
    <polygon points="${still.corners.map(at).join(' ')}" fill="${infrared ? '#f6f6f6' : '#e6e4da'}"/>
    ${strokes.join('')}</svg>`
  const drawn = sharp(Buffer.from(svg)).removeAlpha().blur(0.7)
  const side = options.longestSidePx
  const sized =
    side === undefined
      ? drawn
      : sharp(await drawn.png().toBuffer()).resize({ width: side, height: side, fit: 'inside' })
  const { data, info } = await (options.format === 'png' ? sized.png() : sized.jpeg()).toBuffer({
    resolveWithObject: true,
  })
  return { bytes: data, width: info.width, height: info.height, region }
}
