import type { Point, Quad } from '../../src/math/point.js'
import type { Random } from '../../src/math/random.js'
import type { Raster } from '../../src/still/raster.js'
import { type BoardPart, type CameraRendering, phi, photograph, plateParts } from './renderedBoard.js'

/** A light outline of 0.6 before an even ground, as a camera with a blur of 0.8 px (or as said) sees it, with what is drawn on it and lies around it. */
export interface OutlineScene {
  readonly widthPx: number
  readonly heightPx: number
  readonly rollRad: number
  readonly surround: number
  readonly outline?: number
  readonly blurPx?: number
  /** Centre against the middle of a pixel grid, px. */
  readonly shift: readonly [number, number]
  /** On the outline, in its own frame from its centre, px. */
  readonly parts?: readonly BoardPart[]
  /** Around it, painted before it, in the same frame. */
  readonly around?: readonly BoardPart[]
}

const MARGIN_PX = 34
/** Where the raster lies in its still of 4000 x 3000 px. */
const [LEFT, TOP] = [1500, 1200]

/** The scene's code values and its true corners, in the still. */
export async function photographOutline(
  scene: OutlineScene,
  camera: CameraRendering,
  random: Random,
): Promise<{ readonly raster: Raster; readonly corners: Quad }> {
  const cos = Math.cos(scene.rollRad)
  const sin = Math.sin(scene.rollRad)
  const { widthPx: w, heightPx: h } = scene
  const width = Math.ceil(w * Math.abs(cos) + h * Math.abs(sin)) + 2 * MARGIN_PX
  const height = Math.ceil(w * Math.abs(sin) + h * Math.abs(cos)) + 2 * MARGIN_PX
  const [cx, cy] = [width / 2 + scene.shift[0], height / 2 + scene.shift[1]]
  // Blur and the pixel's square as one Gaussian: even about every edge, so no edge is moved by that.
  const sigmaPx = Math.hypot(scene.blurPx ?? 0.8, Math.sqrt(1 / 12))
  const share = (at: number, from: number, to: number): number =>
    phi((at - from) / sigmaPx) - phi((at - to) / sigmaPx)
  const linear = new Float64Array(width * height).fill(scene.surround)
  const at = (u: number, v: number): Point => [cx + u * cos - v * sin, cy + u * sin + v * cos]
  const paint = (part: Omit<BoardPart, 'level'>, step: number): void => {
    const reach = 6 * sigmaPx
    const around = [part.left - reach, part.right + reach].flatMap((u) =>
      [part.top - reach, part.bottom + reach].map((v) => at(u, v)),
    )
    const [xs, ys] = [around.map(([x]) => x), around.map(([, y]) => y)]
    const [left, right] = [Math.max(0, Math.floor(Math.min(...xs))), Math.min(width, Math.max(...xs))]
    const [top, bottom] = [Math.max(0, Math.floor(Math.min(...ys))), Math.min(height, Math.max(...ys))]
    for (let j = top; j < bottom; j += 1) {
      for (let i = left; i < right; i += 1) {
        const x = i + 0.5 - cx
        const y = j + 0.5 - cy
        const u = x * cos + y * sin
        const v = y * cos - x * sin
        linear[j * width + i]! += step * share(u, part.left, part.right) * share(v, part.top, part.bottom)
      }
    }
  }
  const outline = scene.outline ?? 0.6
  for (const part of scene.around ?? []) paint(part, part.level - scene.surround)
  paint({ left: -w / 2, top: -h / 2, right: w / 2, bottom: h / 2 }, outline - scene.surround)
  for (const part of scene.parts ?? []) paint(part, part.level - outline)
  const raster = await photograph({ width, height, linear }, camera, random)
  const corner = (u: number, v: number): Point => {
    const [x, y] = at(u, v)
    return [x + LEFT, y + TOP]
  }
  return {
    raster: { ...raster, left: LEFT, top: TOP },
    corners: [corner(-w / 2, -h / 2), corner(w / 2, -h / 2), corner(w / 2, h / 2), corner(-w / 2, h / 2)],
  }
}

/** A plate of 520 x 111 mm, drawn so wide and a little turned and shifted by chance, with characters. */
export function plateScene(widthPx: number, random: Random, surround = 0.06): OutlineScene {
  return { ...bare(widthPx, 111 / 520, random, surround), parts: plateParts(widthPx, 0.04) }
}

/** A board of 600 x 400 mm, likewise. */
export function boardScene(widthPx: number, random: Random, surround = 0.06): OutlineScene {
  return bare(widthPx, 400 / 600, random, surround)
}

function bare(widthPx: number, shape: number, random: Random, surround: number): OutlineScene {
  return {
    widthPx,
    heightPx: widthPx * shape,
    rollRad: 0.12 * (2 * random.uniform() - 1),
    surround,
    shift: [random.uniform(), random.uniform()],
  }
}

/** A dark line along a plate's rim, `rimMm` inside it and `lineMm` wide. */
export function rimLine(widthPx: number, rimMm: number, lineMm: number): BoardPart[] {
  const scale = widthPx / 520
  const [w, h] = [260 - rimMm, 55.5 - rimMm]
  const bar = (left: number, top: number, right: number, bottom: number): BoardPart => ({
    left: left * scale,
    top: top * scale,
    right: right * scale,
    bottom: bottom * scale,
    level: 0.04,
  })
  return [
    bar(-w, -h, w, -h + lineMm),
    bar(-w, h - lineMm, w, h),
    bar(-w, -h + lineMm, -w + lineMm, h - lineMm),
    bar(w - lineMm, -h + lineMm, w, h - lineMm),
  ]
}
