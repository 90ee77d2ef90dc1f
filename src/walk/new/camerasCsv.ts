import { isCollection, parseDocument } from 'yaml'
import { ProofwalkError, ProofwalkErrors } from '../../errors.js'
import { parseCsv } from '../../files/csv.js'
import { parseWalk } from '../read/parseWalk.js'
import { fault, type Said } from '../../sentences.js'
import {
  type CarriedThing,
  parseNewPromise,
  type PromisedBy,
  promisedOnce,
  referenceForTask,
} from './newPromise.js'
import { newSays } from './sentences.js'
import type { FoundGrading } from '../read/readGrading.js'

/** A walk to be made for one camera of a list. */
export interface ListedWalk {
  /** Name of its folder. */
  readonly folder: string
  readonly text: string
  readonly lights: readonly string[]
}

/** What a column sets: its place in walk.yaml, and how its text is written there. */
interface ListColumn {
  readonly path: readonly string[]
  readonly value: (text: string) => unknown
}

const text = (value: string): unknown => value
const number = (value: string): unknown =>
  /^-?\d+([.,]\d+)?$/.test(value) ? Number(value.replace(',', '.')) : value
const pair =
  (first: string, second: string) =>
  (value: string): unknown => {
    const sides = /^(\S*)\s*[x×]\s*(\S+)$/i.exec(value)
    if (sides === null) return { [first]: number(value) }
    return { ...(sides[1] === '' ? {} : { [first]: number(sides[1]!) }), [second]: number(sides[2]!) }
  }

/** "4 m | 8 m" or "4 m, 8 m". */
const several = (value: string): string[] =>
  value
    .split(value.includes('|') ? '|' : ',')
    .map((one) => one.trim())
    .filter((one) => one !== '')

/** The columns a list of cameras may have; `folder` is the name of the walk's folder and stands in no file, `promises` are read by themselves. */
const COLUMNS: Readonly<Record<string, ListColumn | null>> = {
  folder: null,
  promises: null,
  marks: { path: ['marks'], value: several },
  lights: { path: ['lights'], value: several },
  name: { path: ['camera', 'name'], value: text },
  id: { path: ['camera', 'id'], value: text },
  serial: { path: ['camera', 'serial'], value: text },
  settings: { path: ['camera', 'settings'], value: text },
  image: { path: ['camera', 'image'], value: pair('width', 'height') },
  fieldOfView: { path: ['camera', 'fieldOfView'], value: pair('horizontal', 'vertical') },
  focalLength: { path: ['camera', 'focalLength'], value: text },
  sensor: { path: ['camera', 'sensor'], value: text },
  pixelPitch: { path: ['camera', 'pixelPitch'], value: text },
  mountHeight: { path: ['camera', 'mountHeight'], value: text },
  tilt: { path: ['camera', 'tilt'], value: number },
  site: { path: ['site'], value: text },
  date: { path: ['date'], value: text },
  notes: { path: ['notes'], value: text },
}

/** What belongs to the walk that was copied and to no other: its stills by name, and what was seen on it. */
const NOT_COPIED = ['stills', 'observations']

/** What a list of cameras is read beside. */
export interface ListSource {
  /** The walk.yaml that all are made alike, as it was written. */
  readonly walkText: string
  /** The list as the user named it. */
  readonly file: string
  /** What promises are made by, and what is carried that they can be told on. */
  readonly promisedBy: PromisedBy
  readonly carried: readonly CarriedThing[]
  readonly findGrading: (named: string) => FoundGrading | Promise<FoundGrading>
}

/**
 * The walks a list of cameras asks for: the text of the walk they are made from with each camera's own columns put in, its comments kept.
 * @throws `ProofwalkErrors` with every fault of the list
 */
export async function listedWalks(listText: string, source: ListSource): Promise<ListedWalk[]> {
  const { rows, unclosed } = parseCsv(listText)
  const tell: Tell = (field, said) => fault(said, { file: source.file, field })
  if (unclosed !== null) throw new ProofwalkErrors([tell(`line ${unclosed}`, newSays['bad-csv']())])
  const [head, ...cameras] = rows
  const names = (head?.fields ?? []).map(columnName)
  const faults = columnFaults(names, tell)
  if (cameras.length === 0) faults.push(tell('line 2', newSays['no-camera']()))
  const walks: ListedWalk[] = []
  for (const { line, fields } of cameras) {
    if (fields.length > names.length)
      faults.push(tell(`line ${line}`, newSays['too-many-fields'](fields.length, names.length)))
    const folder = folderOf(names, fields)
    faults.push(...folderFaults(folder, line, walks, tell))
    const promises = promisesOf(fields[names.indexOf('promises')] ?? '', source, (said) => {
      faults.push(tell(`line ${line}, promises`, said))
    })
    const text = walkTextOf(source.walkText, names, fields, promises)
    try {
      const { lights } = await parseWalk(text, {
        file: source.file,
        dir: folder,
        sha256: '',
        findGrading: source.findGrading,
      })
      walks.push({ folder, text, lights })
    } catch (error) {
      if (!(error instanceof ProofwalkError)) throw error
      const several = error instanceof ProofwalkErrors ? error.faults : [error]
      faults.push(...several.map((one) => listFault(one, line, source.file)))
    }
  }
  if (faults.length > 0) throw new ProofwalkErrors(faults)
  return walks
}

/** A fault at a place of the list. */
type Tell = (field: string, said: Said) => ProofwalkError

function columnFaults(names: readonly string[], tell: Tell): ProofwalkError[] {
  const faults = names.flatMap((name, index): ProofwalkError[] => {
    if (!Object.hasOwn(COLUMNS, name))
      return [tell(name || `column ${index + 1}`, newSays['unknown-column'](name, Object.keys(COLUMNS)))]
    return names.indexOf(name) === index ? [] : [tell(name, newSays['duplicate-column']())]
  })
  return names.includes('name') ? faults : [...faults, tell('name', newSays['name-missing']())]
}

/** A column by its header, in capitals or small letters, with spaces or without; as it is written where there is none of that name. */
function columnName(header: string): string {
  const plain = (name: string): string => name.replace(/[\s_-]/g, '').toLowerCase()
  return Object.keys(COLUMNS).find((name) => plain(name) === plain(header)) ?? header
}

/** The promises of a camera, as walk.yaml has them; null where its line makes none. */
function promisesOf(
  written: string,
  { promisedBy, carried }: ListSource,
  tell: (said: Said) => void,
): readonly unknown[] | null {
  if (written === '') return null
  const promises = written.split('|').flatMap((entry) => {
    const promise = parseNewPromise(entry, promisedBy)
    if (!promise.ok) tell(promise)
    return promise.ok ? [promise.value] : []
  })
  return promisedOnce(promises).map(({ task = null, grade, read, at, light }) => {
    const reference = read === undefined ? referenceForTask(task, carried) : null
    return {
      ...(task === null ? {} : { task }),
      ...(read === undefined ? {} : { read }),
      ...(grade === null ? {} : { grade }),
      at,
      light,
      ...(reference === null ? {} : { reference }),
    }
  })
}

/** The folder of a camera: as its row says, or called by its id and name. */
function folderOf(names: readonly string[], fields: readonly string[]): string {
  const told = (name: string): string => fields[names.indexOf(name)] ?? ''
  return told('folder') || folderName([told('id'), told('name')].filter((part) => part !== '').join(' '))
}

function folderFaults(
  folder: string,
  line: number,
  before: readonly ListedWalk[],
  tell: Tell,
): ProofwalkError[] {
  if (!isFolderName(folder)) return [tell(`line ${line}, folder`, newSays['bad-folder'](folder))]
  if (!before.some((walk) => walk.folder.toLowerCase() === folder.toLowerCase())) return []
  return [tell(`line ${line}`, newSays['duplicate-folder'](folder))]
}

/** Whether a text is a plain name for a walk's folder: one step, and not hidden. */
export function isFolderName(folder: string): boolean {
  return /^[^/\\\0]+$/.test(folder) && !folder.startsWith('.')
}

/** The walk's text with a camera's columns in it; an empty field leaves what the walk says, but a name is always the camera's own. */
function walkTextOf(
  walkText: string,
  names: readonly string[],
  fields: readonly string[],
  promises: readonly unknown[] | null,
): string {
  const document = parseDocument(walkText, { version: '1.2' })
  for (const key of NOT_COPIED) document.delete(key)
  // Of the camera that was copied, what names it is not true of another.
  for (const key of ['id', 'serial']) document.deleteIn(['camera', key])
  for (const [index, name] of names.entries()) {
    const column = Object.hasOwn(COLUMNS, name) ? COLUMNS[name] : null
    const field = fields[index] ?? ''
    if (column === undefined || column === null || (field === '' && name !== 'name')) continue
    const value = document.createNode(column.value(field), { flow: true })
    if (isCollection(value)) value.flow = true
    document.setIn(column.path, value)
  }
  if (promises !== null)
    document.set(
      'promises',
      promises.map((promise) => document.createNode(promise, { flow: true })),
    )
  return document.toString({ lineWidth: 0, flowCollectionPadding: true })
}

/** A fault of the made walk as one of the list: its line, and the column that says it. */
function listFault({ code, message, place }: ProofwalkError, line: number, file: string): ProofwalkError {
  const field = (place.field ?? '').replace(/ \(line \d+\)$/, '')
  const column = Object.entries(COLUMNS).find(([name, one]) => {
    const path = one?.path.join('.') ?? name
    return field === path || field.startsWith(`${path}.`) || field.startsWith(`${path}[`)
  })?.[0]
  return fault({ code, message }, { ...place, file, field: `line ${line}, ${column ?? field}` })
}

/** A name as a folder is called: letters, digits, dashes. */
function folderName(name: string): string {
  return name
    .normalize('NFC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
}
