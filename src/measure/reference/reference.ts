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
  /** Where it is the printed chart: its corners are the outer ones of the black frame. */
  readonly chart?: PrintedChart
}

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
