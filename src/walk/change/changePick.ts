import { join } from 'node:path'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { changeFile, entryVersion } from '../../files/changeFile.js'
import { parsePicks, type StillPick } from '../read/readPicks.js'
import type { PicksFile } from '../schemas/picksSchema.js'

/** The entry of a still in picks.json. */
export type PickEntry = PicksFile['stills'][string]

/** A change of one still's pick. */
export interface PickChange {
  /** The still's path from the walk's folder. */
  readonly file: string
  /** {@link pickVersion} of the pick it replaces; null where there was none. */
  readonly was: string | null
  /** Null takes it out. */
  readonly entry: PickEntry | null
}

/** What `PickChange.was` holds: a pick by another hand has another. */
export function pickVersion(pick: StillPick): string {
  return entryVersion(pick)
}

/**
 * Writes one still's pick into picks.json, whole or not at all; every other entry stays as it stands there, those that came meanwhile included. Fails with
 * `conflict` where the still's own entry is no longer the one that was to be replaced. Throws `ProofwalkErrors` where the file is at fault.
 */
export async function changePick(
  dir: string,
  change: PickChange,
): Promise<Outcome<'changed' | 'as it was', 'conflict'>> {
  let outcome: Outcome<'changed' | 'as it was', 'conflict'> = success('as it was')
  await changeFile(dir, 'picks.json', (text) => {
    const file = join(dir, 'picks.json')
    const picks = text === null ? new Map<string, StillPick>() : parsePicks(text, file)
    const name = change.file.normalize('NFC')
    const known = [...picks].find(([path]) => path.normalize('NFC') === name)?.[1] ?? null
    outcome = success('as it was')
    if ((known === null ? null : pickVersion(known)) !== change.was) {
      outcome = failure('conflict', 'the pick was changed by another hand meanwhile')
      return Promise.resolve(null)
    }
    if (known === null && change.entry === null) return Promise.resolve(null)
    outcome = success('changed')
    return Promise.resolve(withEntry(text, name, change))
  })
  return outcome
}

function withEntry(text: string | null, name: string, { file, entry }: PickChange): string {
  // parsePicks has found it sound
  const picks = (text === null ? { format: 'proofwalk-picks/1', stills: {} } : JSON.parse(text)) as PicksFile
  const plain = (path: string): string => path.replace(/^(\.\/)+/, '').normalize('NFC')
  const stills = Object.entries(picks.stills).map(([path, one]): [string, PickEntry | null] =>
    plain(path) === name ? [path, entry] : [path, one],
  )
  if (!stills.some(([path]) => plain(path) === name)) stills.push([file, entry])
  return picksText({
    ...picks,
    stills: Object.fromEntries(stills.filter((pair): pair is [string, PickEntry] => pair[1] !== null)),
  })
}

/** JSON of two spaces, with points and rows of numbers on one line each. */
function picksText(picks: PicksFile): string {
  const text = JSON.stringify(picks, null, 2)
  return `${text.replace(/\[\s*(-?[\d.eE+-]+(?:,\s*-?[\d.eE+-]+)*)\s*\]/g, (_, numbers: string) => `[${numbers.replace(/\s+/g, ' ')}]`)}\n`
}
