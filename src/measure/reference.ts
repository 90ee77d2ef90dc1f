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
}

/** A straight length of known size (a staff, the height of characters), metres. */
export interface LengthReference {
  readonly kind: 'length'
  readonly name: string
  readonly lengthM: number
  readonly toleranceM: number
}

/** The object of known size in a still. */
export type Reference = RectangleReference | LengthReference
