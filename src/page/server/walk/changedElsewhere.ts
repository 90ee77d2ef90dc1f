import { plainPath } from '../../../walk/change/writtenStills.js'
import type { FolderReading } from './readFolder.js'

/** Whether anything but these stills' own entries differs between two readings: somebody else changed a file in the same moment. */
export function changedElsewhere(
  before: FolderReading,
  after: FolderReading,
  files: readonly string[],
): boolean {
  if (before === after) return false
  const names = new Set(files.map((file) => plainPath(file)))
  const rest = ({ walk, written, picks }: FolderReading): string =>
    JSON.stringify([
      { ...walk, walkSha256: '', stills: [] },
      [...written].filter(([file]) => !names.has(file)),
      [...picks].filter(([file]) => !names.has(plainPath(file))),
    ])
  return rest(before) !== rest(after)
}
