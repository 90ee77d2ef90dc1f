/** A flat rectangle of known size, metres; tolerances are half-widths of a rectangular distribution. */
export interface RectangleReference {
  readonly kind: 'rectangle'
  readonly name: string
  readonly widthM: number
  readonly heightM: number
  readonly widthToleranceM: number
  readonly heightToleranceM: number
  /** `characters`: a plate, whose tone is that of its strokes against its ground; `plain`: an even board, held against its surround. */
  readonly marking: 'characters' | 'plain'
  /** Paper of the sheet of strips fixed flush under it; left out where there is none. */
  readonly strip?: string
  /** How a plate's edge is made: no border, a dark one that ends at its rim, or one drawn so far inside it; left out where nobody said. */
  readonly border?: PlateBorder
  /** Where it is the printed chart: its corners are the outer ones of the black frame. */
  readonly chart?: PrintedChart
}

/**
 * A plate's border: `widthM` how wide it is at the rim, `insetM` how far from the rim it is drawn, metres. `seenIn`: the still that shows it, where a person took it from
 * there and nobody measured it.
 */
export type PlateBorder = { readonly seenIn?: string } & (
  | { readonly kind: 'none' }
  | { readonly kind: 'rim'; readonly widthM: number }
  | { readonly kind: 'inset'; readonly insetM: number }
)

/** Which chart it is, and the frame's outer width as taped after printing, metres; null where nobody taped it. */
interface PrintedChart {
  /** Id of its paper: see `chartPapers`. */
  readonly paper: string
  readonly printedWidthM: number | null
}

/** A rectangle that is the printed chart. */
export type ChartReference = RectangleReference & { readonly chart: PrintedChart }

/** A straight length of known size (a staff, the height of characters), metres. */
export interface LengthReference {
  readonly kind: 'length'
  readonly name: string
  readonly lengthM: number
  readonly toleranceM: number
}

/** The object of known size in a still. */
export type Reference = RectangleReference | LengthReference

/** Whether a reference is the printed chart. */
export function isChart(reference: Reference): reference is ChartReference {
  return reference.kind === 'rectangle' && reference.chart !== undefined
}
