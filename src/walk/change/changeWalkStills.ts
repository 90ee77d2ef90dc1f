import { join } from 'node:path'
import { isMap, isSeq, YAMLMap, YAMLSeq, type Document } from 'yaml'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { changeFile, entryVersion } from '../../files/changeFile.js'
import { editTopKey } from './editTopKey.js'
import { parseWalk } from '../read/parseWalk.js'
import { readGrading } from '../read/readGrading.js'
import { readSays } from '../read/sentences.js'
import type { Walk } from '../read/walk.js'
import { plainPath } from '../schemas/fieldSchemas.js'
import { writtenStill, writtenStills, type WrittenStill } from './writtenStills.js'

/** A change of one still's entry under `stills` in walk.yaml. */
export interface StillChange {
  readonly file: string
  /** {@link entryVersion} of the entry it replaces; null where there was none. */
  readonly was: string | null
  /** Null takes it out. */
  readonly entry: WrittenStill | null
}

/**
 * Changes entries under `stills` in walk.yaml, all or none, and adds `newLights` to its lights; everything else of the file stays as it is written, comments
 * and order included. Fails with `conflict` and the path where an entry is no longer the one that was to be replaced.
 * @throws `ProofwalkErrors` where the file is at fault, or would be after the change
 */
export async function changeWalkStills(
  dir: string,
  changes: readonly StillChange[],
  newLights: readonly string[] = [],
): Promise<Outcome<'changed', 'conflict'>> {
  let outcome: Outcome<'changed', 'conflict'> = success('changed')
  await changeFile(dir, 'walk.yaml', async (text) => {
    await soundWalk(dir, text ?? '')
    const written = writtenStills(text ?? '')
    const collision = changes.find(({ file, was }) => versionIn(written, file) !== was)
    if (collision !== undefined) {
      outcome = failure(readSays['entry-changed'](collision.file))
      return null
    }
    outcome = success('changed')
    const changed = editedWalk(text ?? '', changes, newLights)
    await soundWalk(dir, changed)
    return changed === text ? null : changed
  })
  return outcome
}

/**
 * The walk of a text: nothing but a sound one is changed, and nothing else becomes of it.
 * @throws `ProofwalkErrors` with every fault of the text
 */
export async function soundWalk(dir: string, text: string): Promise<Walk> {
  const file = join(dir, 'walk.yaml')
  return parseWalk(text, { file, dir, sha256: '', findGrading: (named) => readGrading(dir, named) })
}

function versionIn(written: ReadonlyMap<string, WrittenStill>, file: string): string | null {
  const entry = written.get(plainPath(file))
  return entry === undefined ? null : entryVersion(entry)
}

/** The text of a walk with entries of its `stills` changed and lights added. */
export function editedWalk(
  text: string,
  changes: readonly StillChange[],
  newLights: readonly string[] = [],
): string {
  let changed = text
  if (newLights.length > 0) {
    changed = editTopKey(changed, 'lights', (document) => {
      const lights: unknown = document.get('lights')
      if (isSeq(lights)) for (const light of newLights) lights.add(document.createNode(light))
    })
  }
  if (changes.length === 0) return changed
  return editTopKey(changed, 'stills', (document) => {
    for (const change of changes) changeEntry(document, change)
    const stills: unknown = document.get('stills')
    if (isSeq(stills) && stills.items.length === 0) document.delete('stills')
  })
}

function changeEntry(document: Document, { file, entry }: StillChange): void {
  let stills: unknown = document.get('stills')
  if (!isSeq(stills)) {
    if (entry === null) return
    stills = new YAMLSeq()
    document.set('stills', stills)
  }
  const list = stills as YAMLSeq
  const at = list.items.findIndex(
    (item) => isMap(item) && plainPath(writtenStill(item).file) === plainPath(file),
  )
  if (entry === null) {
    if (at >= 0) list.items.splice(at, 1)
  } else if (at >= 0) {
    changeWords(document, list.items[at] as YAMLMap, entry)
  } else {
    const item = document.createNode(wordsOf(entry), { flow: true })
    list.add(item)
  }
}

/** Only the words that differ, so that comments and quotes of the others stay. */
function changeWords(document: Document, item: YAMLMap, entry: WrittenStill): void {
  const before = writtenStill(item)
  for (const key of ['mark', 'light', 'reference'] as const) {
    const word = entry[key]
    if (word === before[key]) continue
    if (word === null) item.delete(key)
    else item.set(key, document.createNode(word))
  }
}

function wordsOf({ file, mark, light, reference }: WrittenStill): Record<string, string> {
  return { file, mark, light, ...(reference === null ? {} : { reference }) }
}
