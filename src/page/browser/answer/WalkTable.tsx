import { isSameMark } from '../../../walk/read/sameMark.js'
import type { StillView } from '../../api.js'
import { usePart, useStore } from '../state/pageStore.js'
import { showStill } from '../state/walkThrough.js'
import { walkFigures } from '../state/walkFigures.js'

/** A row a mark, a column a light: what is measured, and what still wants a hand. */
export function WalkTable() {
  const walk = usePart((state) => state.walk)!
  const marks = usePart((state) => state.results?.results?.marks ?? NONE)
  const lights = [...new Set([...walk.lights, ...walk.stills.flatMap(({ light }) => light ?? [])])]
  const figures = walkFigures(walk)
  const gradeName = (id: string | null): string =>
    id === null
      ? 'grade not known'
      : (walk.grading.grades.find((grade) => grade.id === id)?.name ?? 'no grade')
  if (walk.marks.length === 0) return <p>No marks yet.</p>
  return (
    <div class="scroller" tabIndex={0} role="region" aria-label="Marks by light">
      <table class="marks">
        <caption>Marks by light, {figures.densityUnit}</caption>
        <thead>
          <tr>
            <th scope="col">Mark</th>
            {lights.map((light) => (
              <th scope="col" key={light}>
                {light}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {walk.marks.map((mark) => (
            <tr key={mark.text}>
              <th scope="row">{mark.text}</th>
              {lights.map((light) => {
                const here = marks.filter(
                  (one) => one.light === light && isSameMark(one.distance, mark.distanceM),
                )
                const open = walk.stills.filter(
                  (still) =>
                    still.light === light &&
                    still.mark !== null &&
                    isSameMark(still.mark.distanceM, mark.distanceM) &&
                    still.state === 'assigned',
                )
                return (
                  <td key={light} data-filled={here.length > 0}>
                    {here.map((one) => (
                      <p key={one.reference} class="cell">
                        <strong>{figures.density(one.density).value}</strong>
                        {one.effectiveDensity === null
                          ? null
                          : `, ${figures.density(one.effectiveDensity).value} with detail`}
                        <br />
                        {gradeName(walk.judge === 'pixels' ? one.gradeByPixels : one.grade)}
                        {one.usable === false ? ', nothing stands out' : ''}
                        {one.leftOut ? ', left out of the line' : ''}
                        {walk.references.length > 1 ? <span class="faint"> {one.reference}</span> : null}
                      </p>
                    ))}
                    <OpenStills stills={open} />
                    {here.length === 0 && open.length === 0 ? <span class="faint">–</span> : null}
                  </td>
                )
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

const NONE: never[] = []

function OpenStills({ stills }: { readonly stills: readonly StillView[] }) {
  const store = useStore()
  const drafts = usePart((state) => state.drafts)
  const [first] = stills
  const begun = stills.filter(({ file }) => (drafts.get(file)?.clicks.length ?? 0) > 0).length
  if (first === undefined) return null
  return (
    <button type="button" class="to-pick" onClick={() => showStill(store, first.file)}>
      {stills.length === 1 ? 'to pick' : `${stills.length} to pick`}
      {begun === 0 ? '' : ', begun'}
    </button>
  )
}
