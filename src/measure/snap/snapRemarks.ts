import type { Problem } from '../stillMeasurement.js'
import type { SnappedSide } from './snapSide.js'

/** A side moved farther than this was not clicked on the edge it went to, px: three standard deviations of a click. */
const FAR_PX = 1.5

/** What the person who looks at a snapped outline should check before taking it. */
export function snapRemarks(sides: readonly SnappedSide[], names: readonly string[]): Problem[] {
  const remarks: Problem[] = []
  const rivals = sides.flatMap(({ rivalPx }, i) => (rivalPx === null ? [] : [{ name: names[i]!, rivalPx }]))
  if (rivals.length > 0) {
    const places = rivals.map(
      ({ name, rivalPx }) =>
        `${name}: ${Math.abs(rivalPx).toFixed(1)} px ${rivalPx < 0 ? 'inside' : 'outside'}`,
    )
    remarks.push({
      code: 'snap-other-edge',
      message: `another edge lies near (${places.join(', ')}); check that the outline is the reference's own rim and not its border or what it hangs on`,
    })
  }
  const far = sides.flatMap(({ movedPx }, i) =>
    movedPx > FAR_PX ? [`${names[i]!} ${movedPx.toFixed(1)} px`] : [],
  )
  if (far.length > 0) {
    remarks.push({
      code: 'snap-moved-far',
      message: `moved far from where it was put (${far.join(', ')}); check that it is the reference's own rim`,
    })
  }
  return remarks
}
