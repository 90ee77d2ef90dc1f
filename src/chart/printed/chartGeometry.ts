import { areaStretch, jacobianAt, type Homography } from '../../math/homography.js'
import type { Point, Quad } from '../../math/point.js'
import type { ChartPaper } from './chartPapers.js'

// The chart's one truth, in modules. A module is the lesser of width/14 and height/10 of the lying sheet, the origin is the top left of the
// 14 x 10 field in the sheet's middle, x right, y down. All sizes are this project's convention, from trials on simulated stills.

/** Size of the field in modules; what a sheet has beyond it is more quiet paper. */
export const FIELD = { width: 14, height: 10 } as const

/** A level rectangle, modules. */
export interface ModuleBox {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** Outside of the black frame: what is taped after printing and what the chart's corners are. */
export const FRAME: ModuleBox = { left: 1.2, top: 1.2, right: 12.8, bottom: 8.8 }
/** The light half; the dark half, of the same size to its right, is one piece with the frame. */
export const LIGHT_HALF: ModuleBox = { left: 2.4, top: 2.4, right: 7, bottom: 6.4 }
export const DARK_HALF: ModuleBox = { left: 7, top: 2.4, right: 11.6, bottom: 6.4 }
/** The strip of fine-line areas under both halves. */
export const STRIP: ModuleBox = { left: 2.4, top: 6.4, right: 11.6, bottom: 7.6 }
/** Paper from the sheet's edge inwards that no measurement looks at: it carries the words and the scale bar. */
export const LETTERED_EDGE = 0.6

/** Frame, outside: 11.6 x 7.6 modules. */
export const FRAME_WIDTH_MODULES = FRAME.right - FRAME.left
export const FRAME_HEIGHT_MODULES = FRAME.bottom - FRAME.top

const SLAB_TURN_RAD = (7 * Math.PI) / 180
const LYING_SLAB = { width: 3, height: 1.6 }
const UPRIGHT_SLAB = { width: 1.6, height: 2.4 }

/**
 * What tells one paper's chart from another's, coarse enough to survive any blur the frame survives: how each slab lies, and which way the
 * strip darkens.
 */
export interface ChartFace {
  readonly leftUpright: boolean
  readonly rightUpright: boolean
  /** The strip runs 75, 50, 25 % from left to right instead of 25, 50, 75 %. */
  readonly darkensLeft: boolean
}

/** Number of faces. */
export const FACES = 8

/** The face of a number 0..7. */
export function chartFace(face: number): ChartFace {
  return { leftUpright: (face & 1) !== 0, rightUpright: (face & 2) !== 0, darkensLeft: (face & 4) !== 0 }
}

/** Edge length of a module on a paper, metres. */
export function moduleM(paper: ChartPaper): number {
  return Math.min(paper.widthM / FIELD.width, paper.heightM / FIELD.height)
}

/** A convex four-sided area of the chart; the ink of a point is the sum of the weights of the areas it lies in (0 paper, 1 ink). */
export interface ChartArea {
  readonly part: 'frame' | 'lightHalf' | 'darkSlab' | 'lightSlab' | 'strip'
  /** Clockwise, modules. */
  readonly corners: Quad
  readonly weight: number
}

/** The four corners of a box, clockwise from its top left. */
export function boxCorners(box: ModuleBox): Quad {
  return [
    [box.left, box.top],
    [box.right, box.top],
    [box.right, box.bottom],
    [box.left, box.bottom],
  ]
}

function slabCorners(half: ModuleBox, upright: boolean, turnRad: number): Quad {
  const { width, height } = upright ? UPRIGHT_SLAB : LYING_SLAB
  const centreX = (half.left + half.right) / 2
  const centreY = (half.top + half.bottom) / 2
  const cos = Math.cos(turnRad)
  const sin = Math.sin(turnRad)
  const corner = (sideX: number, sideY: number): Point => {
    const x = (sideX * width) / 2
    const y = (sideY * height) / 2
    return [centreX + x * cos - y * sin, centreY + x * sin + y * cos]
  }
  return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)]
}

/** Corners of the dark slab in the light half, turned 7 degrees clockwise as seen. */
export function darkSlabCorners(upright: boolean): Quad {
  return slabCorners(LIGHT_HALF, upright, SLAB_TURN_RAD)
}

/** Corners of the light slab in the dark half, turned 7 degrees anticlockwise as seen. */
export function lightSlabCorners(upright: boolean): Quad {
  return slabCorners(DARK_HALF, upright, -SLAB_TURN_RAD)
}

/** One of the strip's three areas: its box and its ink coverage. */
export interface StripArea {
  readonly box: ModuleBox
  readonly coverage: number
}

/** The strip's areas from left to right. */
export function stripAreas(face: ChartFace): readonly StripArea[] {
  const width = (STRIP.right - STRIP.left) / 3
  const coverages = face.darkensLeft ? [0.75, 0.5, 0.25] : [0.25, 0.5, 0.75]
  return coverages.map((coverage, index) => ({
    box: { ...STRIP, left: STRIP.left + index * width, right: STRIP.left + (index + 1) * width },
    coverage,
  }))
}

/** The chart as weighted areas: 1 where there is ink, the coverage in the strip, 0 on paper. */
export function chartAreas(face: ChartFace): readonly ChartArea[] {
  return [
    { part: 'frame', corners: boxCorners(FRAME), weight: 1 },
    { part: 'lightHalf', corners: boxCorners(LIGHT_HALF), weight: -1 },
    { part: 'darkSlab', corners: darkSlabCorners(face.leftUpright), weight: 1 },
    { part: 'lightSlab', corners: lightSlabCorners(face.rightUpright), weight: -1 },
    ...stripAreas(face).map((area): ChartArea => {
      return { part: 'strip', corners: boxCorners(area.box), weight: area.coverage - 1 }
    }),
  ]
}

/** Ink at a point of the chart, 0 (paper) to 1; the strip counts as its coverage. Modules. */
export function inkAt(areas: readonly ChartArea[], x: number, y: number): number {
  let ink = 0
  for (const area of areas) {
    let inside = true
    for (let index = 0; index < 4 && inside; index += 1) {
      const a = area.corners[index]!
      const b = area.corners[(index + 1) % 4]!
      inside = (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) >= 0
    }
    if (inside) ink += area.weight
  }
  return ink
}

/**
 * As {@link inkAt} for many places, modules, quick where nothing borders: the ink at a place where it is the same as far as `reach` around it, NaN where a side of an area
 * may run through that circle.
 */
export function evenInk(areas: readonly ChartArea[]): (x: number, y: number, reach: number) => number {
  const sides = areas.map(({ corners, weight }) => ({
    weight,
    lines: corners.map((a, index) => {
      const b = corners[(index + 1) % 4]!
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
      return { x: a[0], y: a[1], dx, dy, length: Math.hypot(dx, dy) }
    }),
  }))
  return (x, y, reach) => {
    let ink = 0
    for (const { weight, lines } of sides) {
      let least = Infinity
      for (const line of lines)
        least = Math.min(least, (line.dx * (y - line.y) - line.dy * (x - line.x)) / line.length)
      if (Math.abs(least) <= reach) return NaN
      if (least > 0) ink += weight
    }
    return ink
  }
}

/** Side of a square of the module's area where a map, modules to px, draws the chart's middle, px. */
export function modulePx(map: Homography): number {
  return Math.sqrt(areaStretch(jacobianAt(map, FIELD.width / 2, FIELD.height / 2)))
}
