import { join } from 'node:path'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { changeFile, entryVersion } from '../../files/changeFile.js'
import { parsePicks, type Picks, type StillPick } from '../read/readPicks.js'
import { plainPath } from '../schemas/fieldSchemas.js'
import { readSays } from '../read/sentences.js'
import type { PickEntry, PicksFile } from '../schemas/picksSchema.js'

/** A change of one of a still's picks. */
export interface PickChange {
  /** The still's path from the walk's folder. */
  readonly file: string
  /** {@link entryVersion} of the pick it replaces; null where there was none of its reference. */
  readonly was: string | null
  /** Null takes it out. */
  readonly entry: PickEntry | null
}

/**
 * Writes a still's pick of one reference into picks.json, whole or not at all; every other entry stays as it stands there, the still's picks of other references
 * and what came meanwhile included. Fails with `conflict` where the pick to be replaced is there no longer, or another pick of the still is of the same reference.
 * @throws `ProofwalkErrors` where the file is at fault
 */
export async function changePick(
  dir: string,
  change: PickChange,
): Promise<Outcome<'changed' | 'as it was', 'conflict'>> {
  let outcome: Outcome<'changed' | 'as it was', 'conflict'> = success('as it was')
  await changeFile(dir, 'picks.json', (text) => {
    const file = join(dir, 'picks.json')
    const picks: Picks['byFile'] = text === null ? new Map() : parsePicks(text, file)
    const name = change.file.normalize('NFC')
    const known = [...picks].find(([path]) => path.normalize('NFC') === name)?.[1] ?? []
    const at = placeOf(known, change)
    outcome = success('as it was')
    if (at === null) {
      outcome = failure(readSays['pick-changed']())
      return Promise.resolve(null)
    }
    if (at < 0 && change.entry === null) return Promise.resolve(null)
    outcome = success('changed')
    return Promise.resolve(withEntry(text, name, at, change))
  })
  return outcome
}

/** Where the pick stands that is to be replaced, -1 for one more; null where it cannot be: beside others a pick names a reference that none of them is of. */
function placeOf(known: readonly StillPick[], { was, entry }: PickChange): number | null {
  const at = known.findIndex((pick) => entryVersion(pick) === was)
  if (was !== null && at < 0) return null
  const others = known.filter((_, index) => index !== at).map(({ reference }) => reference)
  if (entry === null || others.length === 0) return at
  const { reference = null } = entry
  return reference === null || others.includes(null) || others.includes(reference) ? null : at
}

function withEntry(text: string | null, name: string, at: number, { file, entry }: PickChange): string {
  // parsePicks has found it sound
  const picks = (text === null ? { format: 'proofwalk-picks/1', stills: {} } : JSON.parse(text)) as PicksFile
  const stills = Object.entries(picks.stills).map(([path, one]): [string, PickEntry[]] =>
    plainPath(path) === name ? [path, changed([one].flat(), at, entry)] : [path, [one].flat()],
  )
  if (!stills.some(([path]) => plainPath(path) === name)) stills.push([file, changed([], at, entry)])
  return picksText({
    ...picks,
    stills: Object.fromEntries(
      stills.flatMap(([path, all]) => (all.length === 0 ? [] : [[path, all.length === 1 ? all[0]! : all]])),
    ) as PicksFile['stills'],
  })
}

function changed(all: readonly PickEntry[], at: number, entry: PickEntry | null): PickEntry[] {
  const now = entry === null ? [] : [entry]
  return at < 0 ? [...all, ...now] : all.toSpliced(at, 1, ...now)
}

/** JSON of two spaces, with points and rows of numbers on one line each. */
function picksText(picks: PicksFile): string {
  const text = JSON.stringify(picks, null, 2)
  return `${text.replace(/\[\s*(-?[\d.eE+-]+(?:,\s*-?[\d.eE+-]+)*)\s*\]/g, (_, numbers: string) => `[${numbers.replace(/\s+/g, ' ')}]`)}\n`
}
