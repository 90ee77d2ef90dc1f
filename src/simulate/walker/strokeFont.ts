/** A stroke: points of a line in a letter's box, 0..4 across and 0..6 down. */
type Stroke = readonly (readonly [x: number, y: number])[]

/** Round strokes are drawn through these many points a quarter turn. */
const QUARTER_POINTS = 4

/** Points of an elliptic arc from one angle to another, degrees, 0 to the right and 90 down. */
function arc(x: number, y: number, radiusX: number, radiusY: number, fromDeg: number, toDeg: number): Stroke {
  const count = Math.max(2, Math.round((Math.abs(toDeg - fromDeg) / 90) * QUARTER_POINTS))
  return Array.from({ length: count + 1 }, (_, index) => {
    const angle = ((fromDeg + ((toDeg - fromDeg) * index) / count) * Math.PI) / 180
    return [x + radiusX * Math.cos(angle), y + radiusY * Math.sin(angle)] as const
  })
}

/** A line from point to point: x and y in turn. */
function line(...at: readonly number[]): Stroke {
  return Array.from({ length: at.length / 2 }, (_, point) => [at[2 * point]!, at[2 * point + 1]!] as const)
}

/** This project's own letters: plain strokes of even weight. */
const LETTERS: Readonly<Record<string, readonly Stroke[]>> = {
  A: [line(0, 6, 2, 0, 4, 6), line(0.75, 3.9, 3.25, 3.9)],
  D: [[...line(2, 6, 0, 6, 0, 0, 2, 0), ...arc(2, 3, 2, 3, -90, 90)]],
  E: [line(3.7, 0, 0, 0, 0, 6, 3.7, 6), line(0, 2.9, 3, 2.9)],
  I: [line(0.3, 0, 0.3, 6)],
  L: [line(0, 0, 0, 6, 3.7, 6)],
  M: [line(0, 6, 0, 0, 2, 3.6, 4, 0, 4, 6)],
  P: [[...line(0, 6, 0, 0, 2.3, 0), ...arc(2.3, 1.65, 1.7, 1.65, -90, 90), [0, 3.3]]],
  S: [[...arc(2, 1.5, 2, 1.5, -30, -270), ...arc(2, 4.5, 2, 1.5, -90, 150)]],
  T: [line(0, 0, 4, 0), line(2, 0, 2, 6)],
  U: [[...line(0, 0, 0, 4), ...arc(2, 4, 2, 2, 180, 0), [4, 0]]],
  '0': [[...arc(2, 2, 2, 2, 180, 360), ...arc(2, 4, 2, 2, 0, 180), [0, 2]]],
  '2': [[...arc(2, 1.8, 2, 1.8, 195, 390), ...line(0, 6, 4, 6)]],
  '4': [line(3, 6, 3, 0, 0, 4.2, 4, 4.2)],
}

/** Widths of letters narrower than the box of 4. */
const NARROW: Readonly<Record<string, number>> = { I: 0.6, ' ': 0.9 }

/** A line of text laid out as strokes, and the size of its box. */
export interface StrokeText {
  readonly width: number
  readonly height: number
  /** Each x0, y0, x1, y1, in the unit of the height asked for. */
  readonly segments: readonly (readonly [number, number, number, number])[]
}

/** Lays out text as strokes' middle lines in a box of the given height; Letters it does not have are left out. */
export function strokeText(text: string, height: number, gapShare = 0.3): StrokeText {
  const unit = height / 6
  const segments: [number, number, number, number][] = []
  let x = 0
  for (const letter of text) {
    for (const stroke of LETTERS[letter] ?? []) {
      for (let k = 1; k < stroke.length; k += 1) {
        const [a, b] = [stroke[k - 1]!, stroke[k]!]
        segments.push([x + a[0] * unit, a[1] * unit, x + b[0] * unit, b[1] * unit])
      }
    }
    x += ((NARROW[letter] ?? 4) + 4 * gapShare) * unit
  }
  return { width: x - 4 * gapShare * unit, height, segments }
}

/** Distance from a point to the nearest of the strokes, in the same unit. */
export function strokeDistance(text: StrokeText, x: number, y: number): number {
  let least = Infinity
  for (const [x0, y0, x1, y1] of text.segments) {
    const beside = Math.max(0, Math.min(x0, x1) - x, x - Math.max(x0, x1))
    if (beside * beside >= least) continue
    const [dx, dy] = [x1 - x0, y1 - y0]
    const t = Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)))
    const off = (x - x0 - t * dx) ** 2 + (y - y0 - t * dy) ** 2
    if (off < least) least = off
  }
  return Math.sqrt(least)
}
