import type { ComparableWalk, ComparisonFinding } from './comparison.js'

/** What keeps two walks from being held against each other, and what a reader must know of how they differ before they are. */
export function notComparable(before: ComparableWalk, after: ComparableWalk): ComparisonFinding[] {
  const findings: ComparisonFinding[] = []
  const hinder = (code: string, message: string): void =>
    void findings.push({ code, message, weight: 'not comparable' })
  const tell = (code: string, message: string): void =>
    void findings.push({ code, message, weight: 'to know' })

  const camera = otherCamera(before.camera, after.camera)
  if (camera !== null) hinder('other-camera', `not the same camera: ${camera}`)
  const [sizes, otherSizes] = [before.stillSizes, after.stillSizes]
  if (sizes.length > 0 && otherSizes.length > 0 && !sizes.some((size) => otherSizes.includes(size))) {
    const words = `${sizes.join(', ')} px before and ${otherSizes.join(', ')} px after`
    hinder('other-still-size', `the stills are ${words}: another stream or export, so pixels do not compare`)
  }
  if (before.method !== after.method) {
    const words = `measured by method ${before.method} before and ${after.method} after; measure both anew`
    hinder('other-method', words)
  }
  if (before.distanceFrom !== after.distanceFrom) {
    const words = `distances were taped from the ${before.distanceFrom} before and from the ${after.distanceFrom} after`
    hinder('other-distances', `${words}, so the marks are not the same places`)
  }
  if (before.grading !== after.grading || before.judge !== after.judge) {
    const how = ({ grading, judge }: ComparableWalk): string => `${grading} with ${judge}`
    tell(
      'other-grading',
      `judged by ${how(before)} before and by ${how(after)} after: verdicts do not compare, densities do`,
    )
  }
  for (const [name, size] of Object.entries(before.references)) {
    const other = after.references[name]
    if (other === undefined || other === size) continue
    tell(
      'other-reference',
      `${name} was ${size} before and is ${other} after: taken as another object, its size counts twice`,
    )
  }
  return findings
}

/** In what two cameras differ; null where nothing says that they do. A serial number says most, then the id; the name alone may be reworded. */
function otherCamera(before: ComparableWalk['camera'], after: ComparableWalk['camera']): string | null {
  for (const key of ['serial', 'id'] as const) {
    const [one, other] = [before[key], after[key]]
    if (one === null || other === null) continue
    return one === other ? null : `${key} ${one} before, ${other} after`
  }
  return before.name === after.name ? null : `${before.name} before, ${after.name} after`
}
