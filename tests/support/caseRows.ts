import { FIELD, FRAME } from '../../src/chart/printed/chartGeometry.js'
import type { Random } from '../../src/math/random.js'
import type { CaseView, Patch, Spoilt } from './caseStill.js'

/** A way a chart is held or seen wrongly. */
export interface CaseRow {
  readonly name: string
  /** Px per module. */
  readonly sizes: readonly number[]
  /** Codes of problems that tell of it where it is measured. */
  readonly codes: readonly string[]
  /** Codes it should be refused by where it is; any where left out. */
  readonly told?: readonly string[]
  /** True where no density is right. */
  readonly mayNotBeMeasured?: boolean
  make(view: CaseView, n: number, random: Random): { readonly view: CaseView; readonly spoilt: Spoilt }
}

const PART = ['chart-part-covered', 'chart-uneven-light', 'chart-bent']
const MIDDLE = [FIELD.width / 2, FIELD.height / 2] as const

/** All bad inputs the table goes through. */
export function caseRows(): CaseRow[] {
  return [...plainRows(), ...cutRows(), ...shadowRows(), ...coverRows()]
}

function plainRows(): CaseRow[] {
  return [
    {
      name: 'nothing wrong',
      sizes: [2, 3, 5, 10, 20],
      codes: PART,
      make: (view) => ({ view, spoilt: {} }),
    },
  ]
}

/** The frame this many modules beyond the edge; below 0 inside. Sides in turn: left, right, top, bottom, and for the last four both sides of a corner. */
function cutView(view: CaseView, over: number, n: number, random: Random, corners: boolean): CaseView {
  const p = view.pixelsPerModule
  const [width, height] = [view.width ?? 640, view.height ?? 480]
  const [halfW, halfH] = [(FRAME.right - FRAME.left) / 2, (FRAME.bottom - FRAME.top) / 2]
  const side = n % 4
  const x0 = (halfW - over) * p
  // Of the frame's height the same share.
  const y0 = (halfH - (over > 1 ? (over * halfH) / halfW : over)) * p
  const within = (size: number, half: number): number => {
    const room = Math.max(0, size / 2 - (half + 2.5) * p)
    return size / 2 + room * (2 * random.uniform() - 1)
  }
  const x = side === 0 ? x0 : side === 1 ? width - x0 : within(width, halfW)
  const y = side === 2 ? y0 : side === 3 ? height - y0 : within(height, halfH)
  const corner = [side % 2 === 0 ? x0 : width - x0, side < 2 ? y0 : height - y0] as const
  // Turns move the frame's sides against the edge: kept small, so that `over` is what it says.
  const calm = {
    ...view,
    yawDeg: view.yawDeg / 2,
    pitchDeg: view.pitchDeg / 2,
    rollDeg: view.rollDeg / (over > 1 ? 1 : 5),
  }
  return { ...calm, centre: corners ? corner : [x, y] }
}

function cutRows(): CaseRow[] {
  const sizes = [2.5, 3.5, 5, 10, 20]
  const inside = [-1.3, -0.9, -0.5].map((over): CaseRow => ({
    name: `frame ${-over} modules inside the picture's edge`,
    sizes,
    codes: PART,
    make: (view, n, random) => ({ view: cutView(view, over, n, random, false), spoilt: {} }),
  }))
  const cut = [0.3, 0.6, 1, 2, 3, 4].map((over): CaseRow => ({
    name: `cut by a side, ${over} modules`,
    sizes,
    codes: [],
    told: ['chart-none'],
    mayNotBeMeasured: true,
    make: (view, n, random) => ({ view: cutView(view, over, n, random, false), spoilt: {} }),
  }))
  const corners = [0.6, 1.5, 2.5].map((over): CaseRow => ({
    name: `cut by a corner, ${over} modules each way`,
    sizes,
    codes: [],
    told: ['chart-none'],
    mayNotBeMeasured: true,
    make: (view, n, random) => ({ view: cutView(view, over, n, random, true), spoilt: {} }),
  }))
  return [...inside, ...cut, ...corners]
}

/** A line across the chart at a random slope, `at` modules off its middle; positive beyond it. */
function line(at: number, random: Random): (x: number, y: number) => number {
  const turn = 2 * Math.PI * random.uniform()
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  return (x, y) => (x - MIDDLE[0]) * cos + (y - MIDDLE[1]) * sin - at
}

const step = (d: number, soft: number): number => Math.min(1, Math.max(0, d / soft + 0.5))

function shadowRows(): CaseRow[] {
  const sizes = [3, 5, 10]
  const row = (name: string, light: (random: Random) => (x: number, y: number) => number): CaseRow => ({
    name,
    sizes,
    codes: PART,
    make: (view, _n, random) => ({ view, spoilt: { light: light(random) } }),
  })
  const shadow = (share: number, soft: number) => (random: Random) => {
    const d = line(4 * random.uniform() - 2, random)
    return (x: number, y: number): number => 1 - (1 - share) * step(d(x, y), soft)
  }
  return [
    ...[0.5, 0.25, 0.125, 0.06].map((share) =>
      row(`hard shadow, ${share} of the light`, shadow(share, 0.05)),
    ),
    ...[0.5, 0.25, 0.125].map((share) =>
      row(`soft shadow (2 modules), ${share} of the light`, shadow(share, 2)),
    ),
    ...[0.5, 0.25].map((share) =>
      row(`very soft shadow (6 modules), ${share} of the light`, shadow(share, 6)),
    ),
    ...[
      [1.5, 0.5],
      [3, 0.5],
      [3, 0.25],
      [6, 0.25],
    ].map(([pitch, share]) =>
      row(`striped shadow, every ${pitch} modules, ${share} of the light`, (random) => {
        const d = line(pitch! * random.uniform(), random)
        const wave = (x: number, y: number): number => {
          const at = ((d(x, y) / pitch!) % 1) + 1
          return Math.abs((at % 1) - 0.5) * 2
        }
        return (x, y) => 1 - (1 - share!) * step(wave(x, y) - 0.5, 0.2)
      }),
    ),
    row("a lamp's spot", (random) => {
      const [cx, cy] = [14 * random.uniform(), 10 * random.uniform()]
      return (x, y) => 0.25 + 0.75 * Math.exp(-((x - cx) ** 2 + (y - cy) ** 2) / 18)
    }),
    row('light falling 4:1 across', (random) => {
      const d = line(0, random)
      return (x, y) => 4 ** (-0.5 - d(x, y) / 14)
    }),
    row("a hand's shadow", (random) => {
      const fingers = fingersAt(random)
      return (x, y) => 1 - 0.7 * fingers(x, y, 0.3)
    }),
  ]
}

/** Four fingers that reach in from a place outside, and a palm: the share of cover. */
function fingersAt(random: Random): (x: number, y: number, soft: number) => number {
  const turn = 2 * Math.PI * random.uniform()
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  const reach = 3.5 + 1.5 * random.uniform()
  const off = 3 * random.uniform() - 1.5
  return (x, y, soft) => {
    const along = (x - MIDDLE[0]) * cos + (y - MIDDLE[1]) * sin - reach
    const across = -(x - MIDDLE[0]) * sin + (y - MIDDLE[1]) * cos - off
    const palm = step(2.2 - Math.hypot(Math.max(0, 1.5 - along), across), soft)
    let most = palm
    for (let finger = -1.5; finger <= 1.5; finger += 1) {
      const tip = -2.2 + 0.25 * finger ** 2
      const d = Math.hypot(along < tip ? along - tip : 0, across - finger)
      most = Math.max(most, step(0.38 - d, soft))
    }
    return most
  }
}

function coverRows(): CaseRow[] {
  const sizes = [3, 5, 7, 10]
  const row = (name: string, patches: (n: number, random: Random) => Patch[]): CaseRow => ({
    name,
    sizes,
    codes: PART,
    make: (view, n, random) => ({ view, spoilt: { patches: patches(n, random) } }),
  })
  const corner = (n: number): readonly [number, number] => [
    n % 2 === 0 ? FRAME.left : FRAME.right,
    n % 4 < 2 ? FRAME.top : FRAME.bottom,
  ]
  const lights = (random: Random): number => [0.06, 0.2, 0.35, 0.6][Math.floor(4 * random.uniform())]!
  const disc =
    (cx: number, cy: number, radius: number): Patch['cover'] =>
    (x, y, blur) =>
      step(radius - Math.hypot(x - cx, y - cy), blur)
  const bar =
    (left: number, top: number, right: number, bottom: number): Patch['cover'] =>
    (x, y, blur) =>
      step(Math.min(x - left, right - x, y - top, bottom - y), blur)
  return [
    ...[1, 2, 3.5, 5].map((radius) =>
      row(`a hand of ${radius} modules over a corner`, (n, random) => [
        { light: lights(random), cover: disc(...corner(n), radius) },
      ]),
    ),
    ...[1.5, 3].map((radius) =>
      row(`a glove of ${radius} modules over a side`, (n, random) => [
        {
          light: lights(random),
          cover: disc(
            n % 2 === 0 ? (n % 4 === 0 ? FRAME.left : FRAME.right) : 3 + 8 * random.uniform(),
            n % 2 === 0 ? 2.5 + 5 * random.uniform() : n % 4 === 1 ? FRAME.top : FRAME.bottom,
            radius,
          ),
        },
      ]),
    ),
    row('a hand with fingers over a side', (_n, random) => {
      const fingers = fingersAt(random)
      return [{ light: lights(random), cover: (x, y, blur) => fingers(x, y, blur) }]
    }),
    row('a stick across', (_n, random) => {
      const d = line(8 * random.uniform() - 4, random)
      return [{ light: lights(random), cover: (x, y, blur) => step(0.4 - Math.abs(d(x, y)), blur) }]
    }),
    row('a clip at the top', (_n, random) => [
      { light: lights(random), cover: bar(5, -1, 9, 1.2 + 1.2 * random.uniform()) },
    ]),
    ...[0.3, 0.8, 1.6].map((down) =>
      row(`a strap along the top, ${down} modules over the frame`, (_n, random) => [
        { light: lights(random), cover: bar(-3, -2, 17, FRAME.top + down) },
      ]),
    ),
    row('a strap along a side, 0.5 modules over the frame', (n, random) => [
      {
        light: lights(random),
        cover: n % 2 === 0 ? bar(-3, -3, FRAME.left + 0.5, 13) : bar(FRAME.right - 0.5, -3, 17, 13),
      },
    ]),
    row('two hands at both sides', (_n, random) => {
      const light = lights(random)
      return [FRAME.left - 0.5, FRAME.right + 0.5].map((x) => ({
        light,
        cover: disc(x, 4 + 3 * random.uniform(), 1.8),
      }))
    }),
  ]
}
