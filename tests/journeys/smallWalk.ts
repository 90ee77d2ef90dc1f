import { createHash } from 'node:crypto'
import type { Quad } from '../../src/math/point.js'
import { mkdir, readFile, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import sharp from 'sharp'
import { seededRandom } from '../../src/math/random.js'

/** Pixels per radian of the small walk's camera: 100 px/m at 12 m. */
export const SMALL_WALK_PX_PER_RAD = 1200

const WIDTH = 1280
const HEIGHT = 720
const BOARD_W_M = 0.6
const BOARD_H_M = 0.4

/** Image corners of the small walk's board at a distance, px, clockwise from its top left. */
export function boardCorners(distanceM: number): [number, number][] {
  const w = (SMALL_WALK_PX_PER_RAD / distanceM) * BOARD_W_M
  const h = (SMALL_WALK_PX_PER_RAD / distanceM) * BOARD_H_M
  const left = WIDTH / 2 - w / 2 + 0.3
  const top = HEIGHT / 2 - h / 2 + 0.2
  return [
    [left, top],
    [left + w, top],
    [left + w, top + h],
    [left, top + h],
  ]
}

/** Image corners of a panel of 300 x 100 mm that hangs 50 mm below the board, px, clockwise from its top left. */
export function panelCorners(distanceM: number): Quad {
  const pxPerM = SMALL_WALK_PX_PER_RAD / distanceM
  const [left, below] = boardCorners(distanceM)[3]!
  const top = below + 0.05 * pxPerM
  const [right, bottom] = [left + 0.3 * pxPerM, top + 0.1 * pxPerM]
  return [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ]
}

/** Stills that were drawn before in this process. */
const drawn = new Map<string, Promise<Buffer>>()

/** A still of a light board on a dark ground, area-sampled at its edges, a little noise: PNG or JPEG bytes. */
export async function boardStill(distanceM: number, format: 'jpeg' | 'png', seed = 1): Promise<Buffer> {
  const key = `${distanceM} ${format} ${seed}`
  if (!drawn.has(key)) drawn.set(key, drawBoardStill(distanceM, format, seed))
  return Buffer.from(await drawn.get(key)!)
}

async function drawBoardStill(distanceM: number, format: 'jpeg' | 'png', seed: number): Promise<Buffer> {
  const [[left, top], , [right, bottom]] = boardCorners(distanceM) as [
    [number, number],
    unknown,
    [number, number],
  ]
  const random = seededRandom(seed)
  const pixels = Buffer.alloc(WIDTH * HEIGHT)
  const shares = (low: number, high: number, count: number): Float64Array =>
    new Float64Array(count).map((_, at) => Math.max(0, Math.min(high, at + 1) - Math.max(low, at)))
  const [across, down] = [shares(left, right, WIDTH), shares(top, bottom, HEIGHT)]
  const codeOf = (light: number): number => 255 * (1.055 * (0.05 + 0.5 * light) ** (1 / 2.4) - 0.055)
  const [ground, board] = [codeOf(0), codeOf(1)]
  for (let y = 0, at = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++, at++) {
      const light = across[x]! * down[y]!
      const code = light === 0 ? ground : light === 1 ? board : codeOf(light)
      pixels[at] = Math.round(Math.min(255, Math.max(0, code + 1.5 * random.normal())))
    }
  }
  const picture = sharp(pixels, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } }).blur(0.6)
  return format === 'png' ? picture.png().toBuffer() : picture.jpeg({ quality: 92 }).toBuffer()
}

/** walk.yaml of the small walk; `more` is added at its end. */
export function smallWalkYaml(more = ''): string {
  return `site: Net loft
date: 2026-03-14
camera:
  name: Loft camera
  image: { width: ${WIDTH}, height: ${HEIGHT} }
references:
  board: { width: 600 mm, height: 400 mm }
marks: [4 m, 6 m, 9 m]
lights: [day]
promises:
  - { grade: observe, at: 9 m, light: day }
${more}`
}

/** Writes a folder's file, making the folders on the way. */
export async function put(dir: string, file: string, bytes: string | Uint8Array): Promise<void> {
  const path = join(dir, file)
  await mkdir(dirname(path), { recursive: true })
  await writeFile(path, bytes)
}

/** Puts corners for stills that are there into the walk's picks.json. */
export async function putPicks(
  dir: string,
  picks: readonly { readonly file: string; readonly corners: readonly (readonly [number, number])[] }[],
): Promise<void> {
  const stills: Record<string, unknown> = {}
  for (const { file, corners } of picks) {
    const sha256 = createHash('sha256')
      .update(await readFile(join(dir, file)))
      .digest('hex')
    stills[file] = { sha256, reference: 'board', corners, sigma: 0.5, method: 'hand' }
  }
  await put(dir, 'picks.json', JSON.stringify({ format: 'proofwalk-picks/1', stills }, null, 2))
}

/** Makes the small walk: a board at 4, 6 and 9 m by day, with its corners. Simulated. */
export async function makeSmallWalk(dir: string, more = ''): Promise<void> {
  await put(dir, 'walk.yaml', smallWalkYaml(more))
  await putSmallStills(dir)
}

/** Puts the small walk's stills and corners into a folder, with noise of their own where `seed` is another. */
export async function putSmallStills(dir: string, seed = 0): Promise<void> {
  const marks = [4, 6, 9]
  for (const distanceM of marks) {
    await put(dir, `stills/day/${distanceM}m.jpg`, await boardStill(distanceM, 'jpeg', seed + distanceM))
  }
  await putPicks(
    dir,
    marks.map((distanceM) => ({ file: `stills/day/${distanceM}m.jpg`, corners: boardCorners(distanceM) })),
  )
}
