import type { WalkFinding } from '../../grade/judgement.js'
import type { Problem } from '../../measure/stillMeasurement.js'
import { problem } from '../../sentences.js'
import { figuresFor } from '../../units/figures.js'
import type { Walk } from '../read/walk.js'
import { areaPx, isOnePicture, type Pictured } from '../stills/pictured.js'
import { measuringSays } from './sentences.js'

/** A measured still as far as it may be another one's picture. */
export interface PictureOfWalk extends Pictured {
  readonly light: string
  readonly distanceM: number
  /** Stills that may be the same picture by a second look at their noise. */
  readonly alike: readonly string[]
}

/** A still that counts nowhere: whose picture it shows again, and what is told of it; nothing where walk.yaml says so itself and its pixels show it. */
export interface ShownAgain {
  readonly sameAs: string
  readonly problem: Problem | null
}

/** The code of one picture under several names. */
export const SAME_PICTURE = 'same-picture'

/**
 * Which stills show a picture again, by file. Equal bytes, equal pixels or (which is told as `may be`) equal noise are one picture and count once; under two marks or lights they count nowhere, which is also a finding, until
 * walk.yaml says `sameAs` or `distinct` of one. A still that is `sameAs` another measured one does not count; where its pixels do not show that, it is a finding, for that way any still could be left out.
 */
export function samePictures(
  walk: Pick<Walk, 'stills' | 'units'>,
  stills: readonly PictureOfWalk[],
): { readonly again: ReadonlyMap<string, ShownAgain>; readonly findings: readonly WalkFinding[] } {
  const pictures = [...new Map(stills.map((still) => [still.file, still])).values()]
  const again = new Map<string, ShownAgain>()
  const findings: WalkFinding[] = []
  const rootOf = statedRoots(walk, pictures)
  const byFile = new Map(pictures.map((picture) => [picture.file, picture]))
  for (const picture of pictures) {
    const root = byFile.get(rootOf(picture.file))!
    if (root === picture) continue
    const unlike = isOne(root, picture) ? null : problem(measuringSays['copy-unlike'](root.file))
    again.set(picture.file, { sameAs: root.file, problem: unlike })
    if (unlike !== null) {
      findings.push({ code: unlike.code, message: `${picture.file}: ${unlike.message}` })
    }
  }
  const distinct = new Set(walk.stills.flatMap(({ file, distinct: is }) => (is === true ? [file] : [])))
  const open = pictures.filter(({ file }) => !again.has(file) && !distinct.has(file.normalize('NFC')))
  for (const group of onePictureEach(open)) {
    // What was cut out of a picture does not stand for it.
    const [first, ...others] = group.toSorted((a, b) => areaPx(b) - areaPx(a))
    if (others.length === 0) continue
    const isOnePlace = others.every(
      ({ light, distanceM }) => light === first!.light && distanceM === first!.distanceM,
    )
    for (const still of isOnePlace ? others : group) {
      const other = still === first ? others[0]! : first!
      const isCertain = isOnePicture(still, other)
      again.set(still.file, { sameAs: other.file, problem: toldOfStill(isOnePlace, other.file, isCertain) })
    }
    if (!isOnePlace) findings.push({ code: SAME_PICTURE, message: oneUnderSeveral(group, walk) })
  }
  return { again, findings }
}

function onePictureEach(pictures: readonly PictureOfWalk[]): PictureOfWalk[][] {
  const groups: PictureOfWalk[][] = []
  // Only what has a hash of the file or of a block in common, or was found alike, can be one: of thousands of stills not each is held against each.
  const groupsBy = new Map<string, Set<PictureOfWalk[]>>()
  for (const picture of pictures) {
    const { file, sha256, alike, measurement } = picture
    const signs = [sha256, ...(measurement.blocks ?? [])]
    const near = new Set([...signs, file].flatMap((sign) => [...(groupsBy.get(sign) ?? [])]))
    const found = groups.filter((group) => near.has(group))
    const group = found.find((members) => members.some((one) => isOne(one, picture))) ?? []
    if (group.push(picture) === 1) groups.push(group)
    for (const sign of [...signs, ...alike]) groupsBy.set(sign, (groupsBy.get(sign) ?? new Set()).add(group))
  }
  return groups
}

function isOne(one: PictureOfWalk, other: PictureOfWalk): boolean {
  return isOnePicture(one, other) || one.alike.includes(other.file)
}

/** The still a file shows again by walk.yaml, over as many steps as it says; itself where it says nothing, or names a still that was not measured. */
function statedRoots(
  { stills }: Pick<Walk, 'stills'>,
  pictures: readonly PictureOfWalk[],
): (file: string) => string {
  const measured = new Map(pictures.map(({ file }) => [file.normalize('NFC'), file]))
  const next = new Map(
    stills.flatMap(({ file, sameAs }) => {
      const to = sameAs === undefined ? undefined : measured.get(sameAs)
      return to === undefined ? [] : [[file, to] as const]
    }),
  )
  return (file) => {
    const seen = [file]
    for (;;) {
      const to = next.get(seen.at(-1)!.normalize('NFC'))
      if (to === undefined) return seen.at(-1)!
      // Round in a circle: one of them has to stand for all.
      if (seen.includes(to)) return seen.slice(seen.indexOf(to)).sort()[0]!
      seen.push(to)
    }
  }
}

function toldOfStill(isOnePlace: boolean, other: string, isCertain: boolean): Problem {
  return problem(measuringSays[isOnePlace ? 'same-picture-here' : 'same-picture-elsewhere'](other, isCertain))
}

function oneUnderSeveral(group: readonly PictureOfWalk[], { units }: Pick<Walk, 'units'>): string {
  const isCertain = group.every((still) => isOnePicture(group[0]!, still))
  const named = group.map(
    ({ file, light, distanceM }) => `${file} (${figuresFor(units).distance(distanceM)}, ${light})`,
  )
  return problem(measuringSays['one-picture'](named.join(' and '), isCertain)).message
}
