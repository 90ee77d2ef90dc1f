import { failure, success, type Outcome } from '../../math/outcome.js'
import type { Problem } from '../../measure/stillMeasurement.js'
import { listStillFiles, picturesIn, type FolderFile } from './listStillFiles.js'
import { oneLine } from '../../files/oneLine.js'
import { farFromStart, isSameMark, nearestMark } from '../read/sameMark.js'
import { readSays } from '../read/sentences.js'
import { distanceInName, pictureByEnding } from './stillName.js'
import { problem } from '../../sentences.js'
import { figuresFor } from '../../units/figures.js'
import { stillsSays } from './sentences.js'
import type { NamedStill, Walk } from '../read/walk.js'
import { lightMeant, lightOfWalk } from '../read/walkWords.js'

/** A still whose light and mark are known. */
export interface AssignedStill {
  /** Path from the walk's folder, with forward slashes. */
  readonly file: string
  readonly lightId: string
  readonly distanceM: number
  /** What walk.yaml says under `stills`; null where it says nothing. */
  readonly referenceName: string | null
  readonly problems: readonly Problem[]
}

/** A file that is not measured, and why, with the mend. */
export interface UnassignedFile {
  readonly file: string
  readonly code: string
  readonly message: string
}

export interface FoundStills {
  readonly assigned: readonly AssignedStill[]
  readonly unassigned: readonly UnassignedFile[]
}

interface Place {
  readonly lightId: string
  readonly distanceM: number
}

/**
 * Finds the stills of a walk: the files of `stills/<light>/`, named by their distance, and those `walk.yaml` names
 * itself, whose word wins over a file's name. Every file that cannot be measured is told with its reason; only
 * hidden files are passed over. Both lists are sorted by the bytes of the path. No still is opened. `listed` are the walk's files where they are known
 * already (`stillFilesOf`).
 */
export async function findStills(walk: Walk, listed?: readonly FolderFile[]): Promise<FoundStills> {
  const files = listed ?? (await stillFilesOf(walk))
  const knownM = [...walk.marksM, ...walk.promises.map(({ distanceM }) => distanceM)]
  knownM.push(...walk.observations.map(({ distanceM }) => distanceM))
  knownM.push(...walk.stills.map(({ distanceM }) => distanceM))
  const assigned: AssignedStill[] = []
  const unassigned: UnassignedFile[] = []
  for (const file of files) {
    const named = walk.stills.find((still) => still.file === file.path.normalize('NFC')) ?? null
    const place = placeOf(file, named, walk)
    if (!place.ok) {
      unassigned.push({ file: file.path, code: place.code, message: oneLine(place.message) })
      continue
    }
    const { lightId, distanceM } = place.value
    assigned.push({
      file: file.path,
      lightId,
      distanceM,
      referenceName: named?.reference ?? null,
      problems: disagreement(file.path, place.value, named, walk),
    })
  }
  return { assigned: oneMarkEach(assigned, knownM), unassigned }
}

/** The files of a walk that may be stills: those below stills/, the pictures beside it but for the logo, and those it names elsewhere. */
export async function stillFilesOf(walk: Walk): Promise<FolderFile[]> {
  const beside = (await picturesIn(walk.dir)).filter((name) => name !== walk.issuer.logo)
  return listStillFiles(walk.dir, [...walk.stills.map(({ file }) => file), ...beside])
}

function placeOf(file: FolderFile, named: NamedStill | null, walk: Walk): Outcome<Place> {
  if (!file.facts.ok) return file.facts
  const picture = pictureByEnding(file.path.split('/').at(-1)!)
  if (!picture.ok) return picture
  if (named === null) return placeByName(file.path, walk)
  const lightId = lightOfWalk(named.light, walk.lights)
  if (lightId !== null) return success({ lightId, distanceM: named.distanceM })
  return unknownLight(named.light, walk.lights, 'entry')
}

function placeByName(path: string, { lights, distance: { beginsM } }: Walk): Outcome<Place> {
  const steps = path.split('/')
  const name = steps.at(-1)!
  if (steps.length === 1) return failure(stillsSays['beside-walk'](lights))
  if (steps.length === 2) return failure(stillsSays['no-light'](lights[0]!))
  const folder = steps[1]!
  const lightId = lightOfWalk(folder, lights)
  if (lightId === null) return unknownLight(folder, lights, 'folder')
  if (steps.length > 3) return failure(stillsSays['too-deep'](folder))
  const distance = distanceInName(name)
  if (!distance.ok) return distance
  if (distance.value <= 0) return failure(stillsSays['no-length']())
  if (!farFromStart(distance.value, beginsM)) return failure(readSays['begins-too-far']())
  return success({ lightId, distanceM: beginsM + distance.value })
}

function unknownLight(
  light: string,
  lights: readonly string[],
  told: 'folder' | 'entry',
): Outcome<never, 'unknown-light'> {
  return failure(stillsSays['unknown-light'](told, light, lights, lightMeant(light, lights)))
}

/** What the file's own place says against walk.yaml, where both say something. */
function disagreement(path: string, place: Place, named: NamedStill | null, walk: Walk): readonly Problem[] {
  if (named === null) return []
  const byName = placeByName(path, walk)
  if (!byName.ok) return []
  const { lightId, distanceM } = byName.value
  if (lightId === place.lightId && isSameMark(distanceM, place.distanceM)) return []
  const said = (one: Place) => ({
    distance: figuresFor(walk.units).distance(one.distanceM - walk.distance.beginsM),
    light: one.lightId,
  })
  return [problem(stillsSays['name-disagrees'](said(byName.value), said(place)))]
}

/** Gives stills within 0.01 m of each other, or of a distance the walk names, one distance: the walk's, else the nearest one's. */
function oneMarkEach(stills: readonly AssignedStill[], walkM: readonly number[]): AssignedStill[] {
  const knownM = [...walkM]
  const marks = new Map<number, number>()
  for (const distanceM of stills.map((still) => still.distanceM).sort((a, b) => a - b)) {
    const markM = nearestMark(distanceM, knownM)
    marks.set(distanceM, markM)
    if (!knownM.includes(markM)) knownM.push(markM)
  }
  return stills.map((still) => ({ ...still, distanceM: marks.get(still.distanceM)! }))
}
