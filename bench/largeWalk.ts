import { createHash } from 'node:crypto'
import { mkdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { boxCorners, chartAreas, chartFace, FIELD, moduleM } from '../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../src/chart/printed/chartPapers.js'
import { seededRandom, type Random } from '../src/math/random.js'
import type { Point } from '../src/math/point.js'

const PAPER = chartPaper('A2')!
const BOARD_M = [0.6, 0.4] as const
/** Of the largest chart and the smallest, px per module, where stills are 4,000 px wide. */
const MODULE_PX = [57, 8.5] as const
/** More stills than marks are further stills at the same marks. */
const MARKS = 24

/**
 * Writes a walk of large simulated stills, one light, grain everywhere: an A2 chart from near to far that is looked for, or a board with its corners given. The same bytes each time.
 * Returns the stills' paths.
 */
export async function writeLargeWalk(
  dir: string,
  kind: 'chart' | 'corners',
  stills: number,
  widthPx: number,
): Promise<string[]> {
  const heightPx = 0.75 * widthPx
  const perRadianPx = 0.75 * widthPx
  const random = seededRandom(12)
  const grain = await grainOf(widthPx, heightPx, random)
  const picks: Record<string, unknown> = {}
  const files: string[] = []
  await mkdir(join(dir, 'stills/day'), { recursive: true })
  for (let index = 0; index < stills; index++) {
    const share = (index % MARKS) / (MARKS - 1)
    const modulePx = ((MODULE_PX[0] * widthPx) / 4000) * (MODULE_PX[1] / MODULE_PX[0]) ** share
    const perMPx = modulePx / moduleM(PAPER)
    const middle: Point = [
      (0.42 + 0.16 * random.uniform()) * widthPx,
      (0.45 + 0.1 * random.uniform()) * heightPx,
    ]
    const sizePx: Point = [BOARD_M[0] * perMPx, BOARD_M[1] * perMPx]
    const drawn = kind === 'chart' ? drawnChart(middle, modulePx) : drawnBoard(middle, sizePx)
    const bytes = await stillOf(drawn, widthPx, heightPx, grain, random)
    const file = `stills/day/${(perRadianPx / perMPx).toFixed(2)}m-${index}.jpg`
    await writeFile(join(dir, file), bytes)
    files.push(join(dir, file))
    picks[file] = {
      sha256: createHash('sha256').update(bytes).digest('hex'),
      corners: cornersOf(middle, sizePx),
    }
  }
  await writeFile(join(dir, 'walk.yaml'), walkText(kind))
  if (kind === 'corners')
    await writeFile(join(dir, 'picks.json'), JSON.stringify({ format: 'proofwalk-picks/1', stills: picks }))
  return files
}

function walkText(kind: 'chart' | 'corners'): string {
  const reference = kind === 'chart' ? 'chart: { chart: A2 }' : 'board: { width: 600 mm, height: 400 mm }'
  return `site: Long quay
date: 2026-03-14
simulated: true
camera: { name: Quay camera }
references:
  ${reference}
lights: [day]
promises:
  - { grade: observe, at: 8 m, light: day }
`
}

const grey = (linear: number): string => {
  const value = Math.round(255 * (1.055 * linear ** (1 / 2.4) - 0.055))
  return `rgb(${value},${value},${value})`
}
const polygon = (corners: readonly Point[], linear: number): string =>
  `<polygon points="${corners.map(([x, y]) => `${x},${y}`).join(' ')}" fill="${grey(linear)}"/>`

/** An upright chart, its middle there: paper of 0.7, ink of 0.03, each area drawn on what it lies on. */
function drawnChart([x, y]: Point, modulePx: number): string {
  const light = (ink: number): number => 0.7 + (0.03 - 0.7) * ink
  const areas = chartAreas(chartFace(PAPER.face)).map((area) =>
    polygon(
      area.corners,
      light(
        area.part === 'frame' || area.part === 'darkSlab' ? 1 : area.part === 'strip' ? 1 + area.weight : 0,
      ),
    ),
  )
  const sheet = polygon(boxCorners({ left: 0, top: 0, right: FIELD.width, bottom: FIELD.height }), light(0))
  const [left, top] = [x - (FIELD.width / 2) * modulePx, y - (FIELD.height / 2) * modulePx]
  return `<g transform="translate(${left} ${top}) scale(${modulePx})">${sheet}${areas.join('')}</g>`
}

function drawnBoard(middle: Point, size: Point): string {
  return polygon(cornersOf(middle, size), 0.6)
}

function cornersOf([x, y]: Point, [width, height]: Point): Point[] {
  const [left, right, top, bottom] = [x - width / 2, x + width / 2, y - height / 2, y + height / 2]
  return [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ]
}

/** A picture of grain about middle grey, laid over stills. */
function grainOf(width: number, height: number, random: Random): Promise<Buffer> {
  const data = Buffer.alloc(width * height)
  for (let at = 0; at < data.length; at++) data[at] = Math.round(128 + 4 * random.normal())
  return sharp(data, { raw: { width, height, channels: 1 } })
    .toColourspace('srgb')
    .png({ compressionLevel: 1 })
    .toBuffer()
}

/** The drawn things before boxes of many sizes, softened, with grain, as JPEG. */
function stillOf(
  drawn: string,
  width: number,
  height: number,
  grain: Buffer,
  random: Random,
): Promise<Buffer> {
  const boxes = Array.from({ length: 60 }, () => {
    const [w, h] = [0.02 + 0.1 * random.uniform(), 0.02 + 0.1 * random.uniform()]
    const place = `x="${random.uniform() * width}" y="${random.uniform() * height}"`
    return `<rect ${place} width="${w * width}" height="${h * height}" fill="${grey(0.05 + 0.3 * random.uniform())}"/>`
  })
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%" fill="${grey(0.14)}"/>${boxes.join('')}${drawn}</svg>`
  return sharp(Buffer.from(svg))
    .flatten()
    .blur(0.8)
    .composite([{ input: grain, blend: 'overlay' }])
    .removeAlpha()
    .jpeg({ quality: 90 })
    .toBuffer()
}
