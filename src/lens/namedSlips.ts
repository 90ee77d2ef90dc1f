import type { Contradiction, DataSheet, LensReading } from './dataSheet.js'
import { projectionAngle } from './projection.js'
import { problem } from '../sentences.js'
import { lensSays } from './sentences.js'

/** What a sheet comes to, of a reading. */
type Read = Pick<LensReading, 'lens' | 'contradictions'>

/** Pixels are joined or parted by these in other modes of one imager: this project's convention. */
const MODES = [2, 3, 4]

/** A slip that sheets are copied with: the sheet without it, and what is told of it. */
interface Slip {
  readonly without: DataSheet
  readonly tell: (read: Read) => Contradiction
}

/**
 * The slips that a sheet which contradicts itself looks like: each is undone in turn, and named where the sheet then contradicts itself less. Several
 * may be named: those that cannot be told apart, and several at once.
 */
export function namedSlips(
  sheet: DataSheet,
  contradictions: number,
  read: (sheet: DataSheet) => Read,
): { readonly slips: readonly Contradiction[]; readonly rightPitch: DataSheet | null } {
  let rightPitch: DataSheet | null = null
  const slips = possibleSlips(sheet).flatMap(({ without, tell }): Contradiction[] => {
    const undone = read(without)
    if (undone.contradictions.length >= contradictions) return []
    if (without.pixelPitchM !== sheet.pixelPitchM) rightPitch = without
    return [tell(undone)]
  })
  return { slips, rightPitch }
}

function possibleSlips(sheet: DataSheet): Slip[] {
  const { widthPx, heightPx, horizontalDeg, verticalDeg, pixelPitchM } = sheet
  const slips: Slip[] = []
  if (horizontalDeg && verticalDeg) {
    slips.push({
      without: { ...sheet, horizontalDeg: verticalDeg, verticalDeg: horizontalDeg },
      tell: () => ({
        ...problem(lensSays['angles-exchanged'](sheet, horizontalDeg, verticalDeg)),
        relative: horizontalDeg / verticalDeg - 1,
      }),
    })
  }
  slips.push({
    without: { ...sheet, widthPx: heightPx, heightPx: widthPx },
    tell: () => ({ ...problem(lensSays['picture-turned'](sheet)), relative: widthPx / heightPx - 1 }),
  })
  // A picture that stands upright was more likely turned than its angles exchanged.
  if (heightPx > widthPx) slips.reverse()
  if (horizontalDeg) {
    slips.push({
      without: { ...sheet, horizontalDeg: null, diagonalDeg: horizontalDeg },
      tell: ({ lens }) => {
        const acrossDeg = (projectionAngle(lens!.p, widthPx / 2 / lens!.pixelsPerRadian)! * 360) / Math.PI
        const relative = horizontalDeg / acrossDeg - 1
        return { ...problem(lensSays['diagonal-for-horizontal'](horizontalDeg, acrossDeg)), relative }
      },
    })
  }
  if (pixelPitchM) {
    for (const times of MODES.flatMap((mode) => [mode, 1 / mode])) {
      const rightM = pixelPitchM / times
      slips.push({
        without: { ...sheet, pixelPitchM: rightM },
        tell: () => ({
          ...problem(lensSays['pitch-of-another-mode'](pixelPitchM, rightM)),
          relative: times - 1,
        }),
      })
    }
  }
  return slips
}
