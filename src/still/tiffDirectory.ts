/** One entry of a TIFF directory: its numbers, or its text where it holds text. */
export interface TiffEntry {
  readonly numbers: readonly number[]
  readonly text: string
}

const TYPE_BYTES = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8]
const TEXT_TYPE = 2

/**
 * Reads one directory of a TIFF file or of an EXIF block, which is one inside (TIFF 6.0, section 2; the 64-bit kind too).
 * `offset` counts bytes from the start of `bytes`; without it the first directory is read. Null where it does not lie inside.
 */
export function readTiffDirectory(bytes: Buffer, offset?: number): ReadonlyMap<number, TiffEntry> | null {
  if (bytes.length < 8) return null
  const little = bytes[0] === 0x49
  const wide = (little ? bytes[2] : bytes[3]) === 0x2b
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const size = (at: number): number =>
    wide ? Number(view.getBigUint64(at, little)) : view.getUint32(at, little)
  const sizeBytes = wide ? 8 : 4
  if (wide && bytes.length < 16) return null
  const start = offset ?? size(wide ? 8 : 4)
  const headBytes = wide ? 8 : 2
  if (start + headBytes > bytes.length) return null
  const count = wide ? Number(view.getBigUint64(start, little)) : view.getUint16(start, little)
  const entryBytes = 4 + 2 * sizeBytes
  if (start + headBytes + count * entryBytes > bytes.length) return null

  const entries = new Map<number, TiffEntry>()
  for (let index = 0; index < count; index++) {
    const at = start + headBytes + index * entryBytes
    const type = view.getUint16(at + 2, little)
    const values = size(at + 4)
    const valueBytes = TYPE_BYTES[type] ?? 0
    if (valueBytes === 0) continue
    const total = values * valueBytes
    const dataAt = total <= sizeBytes ? at + 4 + sizeBytes : size(at + 4 + sizeBytes)
    if (dataAt + total > bytes.length) continue
    const numbers: number[] = []
    for (let value = 0; type !== TEXT_TYPE && value < values; value++) {
      const number = readNumber(view, dataAt, type, value, little)
      if (number !== null) numbers.push(number)
    }
    const text =
      type === TEXT_TYPE ? bytes.toString('latin1', dataAt, dataAt + total).replace(/\0.*$/s, '') : ''
    entries.set(view.getUint16(at, little), { numbers, text })
  }
  return entries
}

/** Whether all strips or tiles of a TIFF's first picture lie inside the file (tags 273 and 279, or 324 and 325). */
export function tiffIsWhole(bytes: Buffer): boolean {
  const directory = readTiffDirectory(bytes)
  if (directory === null) return false
  const tiled = directory.has(324)
  const starts = directory.get(tiled ? 324 : 273)?.numbers
  const lengths = directory.get(tiled ? 325 : 279)?.numbers
  if (starts === undefined || lengths === undefined || starts.length === 0) return false
  return starts.every((start, index) => start + (lengths[index] ?? Infinity) <= bytes.length)
}

/** Whole numbers only: of 1, 2, 4 or 8 bytes (types BYTE, SHORT, LONG, IFD, LONG8, IFD8); others are left out. */
function readNumber(view: DataView, at: number, type: number, index: number, little: boolean): number | null {
  if (type === 1) return view.getUint8(at + index)
  if (type === 3) return view.getUint16(at + 2 * index, little)
  if (type === 4 || type === 13) return view.getUint32(at + 4 * index, little)
  if (type === 16 || type === 18) return Number(view.getBigUint64(at + 8 * index, little))
  return null
}
