import { compareSays } from './sentences.js'
import { problem, type Said } from '../../sentences.js'
import { isSamePicture, type PictureSigns } from '../../still/samePicture.js'
import type { ComparableWalk, ComparisonFinding, FindingWeight } from './comparison.js'

/**
 * What keeps two walks from being held against each other, and what a reader must know of how they differ before they are. Of so many later pictures `alike` says
 * that they may be earlier ones, encoded again.
 */
export function notComparable(before: ComparableWalk, after: ComparableWalk, alike = 0): ComparisonFinding[] {
  const findings: ComparisonFinding[] = []
  const tell = (weight: FindingWeight, said: Said): void => void findings.push({ ...problem(said), weight })

  const camera = otherCamera(before.camera, after.camera)
  if (camera !== null) tell('not comparable', compareSays['other-camera'](camera))
  const [sizes, otherSizes] = [before.stillSizes, after.stillSizes]
  if (sizes.length > 0 && otherSizes.length > 0 && !sizes.some((size) => otherSizes.includes(size))) {
    tell('not comparable', compareSays['other-still-size'](sizes.join(', '), otherSizes.join(', ')))
  }
  const isBefore = (picture: PictureSigns): boolean =>
    before.pictures.some((one) => isSamePicture(one, picture))
  const both = after.pictures.filter(isBefore).length
  if (both > 0) {
    const all = after.pictures.length
    tell(both === all ? 'not comparable' : 'to know', compareSays['same-picture'](both, all))
  } else if (alike > 0) {
    const all = after.pictures.length
    tell(alike === all ? 'not comparable' : 'to know', compareSays['alike-picture'](alike, all))
  }
  if (before.method !== after.method) {
    tell('not comparable', compareSays['other-method'](before.method, after.method))
  }
  if (before.distanceFrom !== after.distanceFrom) {
    tell('not comparable', compareSays['other-distances'](before.distanceFrom, after.distanceFrom))
  }
  if (before.grading !== after.grading || before.judge !== after.judge) {
    const how = ({ grading, judge }: ComparableWalk): string => `${grading} with ${judge}`
    tell('to know', compareSays['other-grading'](how(before), how(after)))
  }
  for (const [name, size] of Object.entries(before.references)) {
    const other = after.references[name]
    if (other === undefined || other === size) continue
    tell('to know', compareSays['other-reference'](name, size, other))
  }
  return findings
}

/** In what two cameras differ; null where nothing says that they do. A serial number says most, then the id; the name alone may be reworded. */
export function otherCamera(
  before: ComparableWalk['camera'],
  after: ComparableWalk['camera'],
): string | null {
  for (const key of ['serial', 'id'] as const) {
    const [one, other] = [before[key], after[key]]
    if (one === null || other === null) continue
    return one === other ? null : `${key} ${one} before, ${other} after`
  }
  return before.name === after.name ? null : `${before.name} before, ${after.name} after`
}
