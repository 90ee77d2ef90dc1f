import type { JudgedStill } from '../../src/grade/judgement.js'
import type { Point, Quad } from '../../src/math/point.js'
import type { Random } from '../../src/math/random.js'
import { measureDensity } from '../../src/measure/density/density.js'
import type { MeasuredDensity } from '../../src/measure/density/measuredDensity.js'
import type { PickMethod } from '../../src/measure/reference/pick.js'
import type { RectangleReference } from '../../src/measure/reference/reference.js'
import { BOARD, PLATE } from '../grade/simulatedWalk.js'
import { seenRectangle, type Scene } from '../measure/seenRectangle.js'

/** Pixels per radian of every simulated camera, in the middle of a 1920 x 1080 still. */
export const F = 1150
export const STILL = { width: 1920, height: 1080 }
const PROJECTIONS = [1, 0.5, 0, -0.5, -1]
const HELD_DEG = 2

/** Marks of walks of 3, 4, 6 and 8, metres as taped. */
export const MARK_SETS: readonly (readonly number[])[] = [
  [3, 6, 13],
  [3, 5, 8, 13],
  [3, 4.5, 6, 8, 10, 13],
  [3, 4, 5, 6, 7.5, 9, 11, 13],
]

/** How points are got: their noise, px, and what all ends of a walk share, px outward (as stated for each, one standard deviation). */
const HANDS: Readonly<Record<PickMethod, { readonly sigmaPx: number; readonly habitPx: number }>> = {
  hand: { sigmaPx: 0.5, habitPx: 0.2 },
  snapped: { sigmaPx: 0.1, habitPx: 0.07 },
  found: { sigmaPx: 0.05, habitPx: 0 },
}

/** References on one walk, and how their corners are got. */
type Carried = readonly (readonly [RectangleReference, PickMethod])[]

/** The classes of walks: what was carried, and how its corners were got. */
export const CLASSES = {
  clicked: [[BOARD, 'hand']],
  snapped: [[BOARD, 'snapped']],
  found: [[BOARD, 'found']],
  plate: [[PLATE, 'hand']],
  'two references': [
    [BOARD, 'hand'],
    [PLATE, 'hand'],
  ],
} as const satisfies Record<string, Carried>
export type WalkClass = keyof typeof CLASSES

/** Whole charts are fitted as one plane and bend less than four corners: c of the error -c phi^2 in the middle of the picture, by projection (see `chartBendRel`). */
const CHART_BEND = [0, 0.17, 0.22, 0.25, 0.25]

/** What is wrong with a still beyond what is stated. */
export interface StillFault {
  /** True distance less the taped one, metres. */
  readonly fartherM?: number
  /** Pixels over those the lens draws; across over upright. */
  readonly scale?: number
  readonly aspect?: number
  /** The reference's true size over the stated one. */
  readonly size?: number
  /** Corner noise over the stated one. */
  readonly rougher?: number
  /** Held turned by this beside the usual, degrees. */
  readonly yawDeg?: number
  /** Held upright under a camera so much higher, metres. */
  readonly dropM?: number
}

/** What is drawn otherwise: lights beside day, where the tape measure starts (standard deviation 0.03 m), faults by place. */
export interface WrongWalk {
  readonly lights: readonly string[]
  readonly fault: (light: string, reference: string, index: number) => StillFault
}

/** One still as drawn: what is true of it, and where its corners are got, exactly and by hand, snap or finder as stated for each. */
export interface DrawnStill {
  readonly reference: RectangleReference
  readonly method: PickMethod
  readonly light: string
  readonly markM: number
  readonly scene: Scene
  readonly exact: Quad
  readonly corners: Quad
}

/**
 * One walk by the hand's and the tape's stated habits. Drawn once: the projection (unless its index is given), where the tape measure starts (up to 0.2 m nearer or farther,
 * rectangular), the sizes and the habit; per mark the tape (0.05 m, rectangular), how the reference was held (2 degrees) and every corner.
 */
export function drawWalk(
  carried: Carried,
  marksM: readonly number[],
  random: Random,
  wrong?: WrongWalk,
  projection = Math.floor(random.uniform() * PROJECTIONS.length),
): DrawnStill[] {
  const spread = (half: number): number => half * (2 * random.uniform() - 1)
  const startM = wrong === undefined ? spread(0.2) : 0.03 * random.normal()
  const tapesM = new Map<string, number>()
  return carried.flatMap(([reference, method]): DrawnStill[] => {
    const { sigmaPx, habitPx } = HANDS[method]
    const sizes = [
      reference.widthM + spread(reference.widthToleranceM),
      reference.heightM + spread(reference.heightToleranceM),
    ]
    const outwardPx = habitPx * random.normal()
    const places = (wrong?.lights ?? ['day']).flatMap((light) =>
      marksM.map((markM, index) => ({ light, markM, index })),
    )
    return places.map(({ light, markM, index }): DrawnStill => {
      const {
        fartherM = 0,
        scale = 1,
        aspect = 1,
        size = 1,
        rougher = 1,
        yawDeg = 0,
        dropM = 0,
      } = wrong?.fault(light, reference.name, index) ?? {}
      const [widthM, heightM] = [size * sizes[0]!, size * sizes[1]!]
      // One tape lies at a mark in one light, whatever is held there.
      const tapeM = tapesM.get(light + markM) ?? spread(0.05)
      tapesM.set(light + markM, tapeM)
      const distanceM = markM + startM + tapeM + fartherM
      const scene = {
        ...STILL,
        p: PROJECTIONS[projection]!,
        pixelsPerRadian: scale * F,
        widthM,
        heightM,
        distanceM,
        yawDeg: yawDeg + HELD_DEG * random.normal(),
        pitchDeg: (-180 / Math.PI) * Math.asin(dropM / distanceM) + HELD_DEG * random.normal(),
      }
      const shrunk = 1 - CHART_BEND[projection]! * (Math.hypot(widthM, heightM) / 2 / distanceM) ** 2
      const flat = { ...scene, p: 1, widthM: widthM * shrunk, heightM: heightM * shrunk }
      const seen = seenRectangle(method === 'found' ? flat : scene).corners
      const exact = quad(seen.map(([x, y]) => [STILL.width / 2 + (x - STILL.width / 2) * aspect, y]))
      const corners = exact.map(([x, y], i): Point => {
        const right = i === 1 || i === 2 ? 1 : -1
        const down = i >= 2 ? 1 : -1
        return [
          x + right * outwardPx + rougher * sigmaPx * random.normal(),
          y + down * outwardPx + rougher * sigmaPx * random.normal(),
        ]
      })
      return { reference, method, light, markM, scene, exact, corners: quad(corners) }
    })
  })
}

const quad = (corners: readonly Point[]): Quad => corners as unknown as Quad

/** What is measured of a drawn still on its corners alone. */
export function measuredCorners({ reference, markM, method, corners }: DrawnStill): MeasuredDensity {
  const measured = measureDensity(
    reference,
    { kind: 'corners', corners, sigmaPx: HANDS[method].sigmaPx, method },
    { stillWidth: STILL.width, stillHeight: STILL.height, distanceM: markM },
  )
  if (!measured.ok) throw new Error(measured.message)
  return measured.value
}

/** A drawn still as it is judged, by its corners alone unless it was measured. */
export function judgedStill(drawn: DrawnStill, measured: Partial<JudgedStill> = {}): JudgedStill {
  const { reference, light, markM, method } = drawn
  const none = { sharpness: null, tone: null, effectiveDensity: null }
  return {
    file: `stills/${light}/${markM}m ${reference.name}.png`,
    light,
    reference: reference.name,
    distanceM: markM,
    lineOfSightM: markM,
    grade: null,
    gradeByPixels: null,
    usable: null,
    measurement: {
      ...STILL,
      method: method === 'found' ? 'chart' : 'picks',
      ...measuredCorners(drawn),
      ...none,
    },
    ...measured,
  }
}

/** The stills of one walk, corners only: see `drawWalk`. */
export function riskWalk(
  walked: WalkClass | Carried,
  marksM: readonly number[],
  random: Random,
  wrong?: WrongWalk,
): JudgedStill[] {
  const carried = typeof walked === 'string' ? CLASSES[walked] : walked
  return drawWalk(carried, marksM, random, wrong).map((drawn) => judgedStill(drawn))
}
