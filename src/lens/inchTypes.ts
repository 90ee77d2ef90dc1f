/** An inch type and the sizes of imager sold under it, mm. */
interface InchType {
  readonly inches: number
  readonly sizesMm: readonly (readonly [width: number, height: number])[]
}

/**
 * Inch types are not standardised; these are the typical values of the common public table of imager formats. 1/2.8 is
 * quoted in two ways, the third size being 1920 x 1080 pixels of 2.9 um. Type 1 is larger in video than in stills cameras.
 */
export const INCH_TYPES: readonly InchType[] = [
  { inches: 1 / 4, sizesMm: [[3.6, 2.7]] },
  { inches: 1 / 3.6, sizesMm: [[4, 3]] },
  { inches: 1 / 3.2, sizesMm: [[4.54, 3.42]] },
  { inches: 1 / 3, sizesMm: [[4.8, 3.6]] },
  {
    inches: 1 / 2.8,
    sizesMm: [
      [5.12, 3.84],
      [5.37, 4.04],
      [5.57, 3.13],
    ],
  },
  { inches: 1 / 2.7, sizesMm: [[5.37, 4.04]] },
  { inches: 1 / 2.5, sizesMm: [[5.76, 4.29]] },
  { inches: 1 / 2.3, sizesMm: [[6.17, 4.55]] },
  { inches: 1 / 2, sizesMm: [[6.4, 4.8]] },
  { inches: 1 / 1.8, sizesMm: [[7.18, 5.32]] },
  { inches: 1 / 1.7, sizesMm: [[7.6, 5.7]] },
  { inches: 1 / 1.6, sizesMm: [[8.08, 6.01]] },
  { inches: 2 / 3, sizesMm: [[8.8, 6.6]] },
  { inches: 1 / 1.2, sizesMm: [[10.67, 8]] },
  {
    inches: 1,
    sizesMm: [
      [12.8, 9.6],
      [13.2, 8.8],
    ],
  },
]

/** Types are written to two or three digits. */
const SAME_TYPE = 0.006

/** Shapes of imager the rule is applied to: width over diagonal for 4:3 and for 16:9. */
const WIDTH_OVER_DIAGONAL = [4 / 5, 16 / Math.hypot(16, 9)] as const

/**
 * The least and the greatest width, metres, of an imager sold under an inch type (1/2.8 is 0.357): the table's, and those of the
 * trade's rule, a diagonal of 16 mm times the type from 1/2 up and 18 mm times it below, in the shapes 4:3 and 16:9.
 */
export function inchTypeWidthM(inches: number): { readonly low: number; readonly high: number } {
  const diagonalMm = (inches >= 0.5 ? 16 : 18) * inches
  const known = INCH_TYPES.filter((type) => Math.abs(type.inches / inches - 1) < SAME_TYPE)
  const widthsMm = [
    ...WIDTH_OVER_DIAGONAL.map((share) => share * diagonalMm),
    ...known.flatMap((type) => type.sizesMm.map(([width]) => width)),
  ]
  return { low: Math.min(...widthsMm) / 1000, high: Math.max(...widthsMm) / 1000 }
}
