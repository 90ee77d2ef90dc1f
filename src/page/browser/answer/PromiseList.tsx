import { promisedName } from '../../../grade/gradings/grading.js'
import { isSameMark } from '../../../walk/read/sameMark.js'
import { usePart } from '../state/pageStore.js'
import { VerdictFrame } from './VerdictFrame.js'
import { walkFigures } from '../state/walkFigures.js'
import { asSentence, withMend } from '../../../sentences.js'
import { pageSays } from '../../sentences.js'

/** Each promised grade with its verdict and the reason, as far as the walk is measured. */
export function PromiseList() {
  const walk = usePart((state) => state.walk)!
  const judged = usePart((state) => state.results?.results?.promises ?? NONE)
  const figures = walkFigures(walk)
  if (walk.promises.length === 0)
    return <p class="faint">No grade is promised in walk.yaml, so there is no verdict.</p>
  return (
    <section aria-labelledby="promised-head">
      <h2 id="promised-head">Promised grades</h2>
      <ol class="promises">
        {walk.promises.map((promise, index) => {
          const found = judged.find(
            (one) =>
              one.kind === (promise.kind ?? 'least') &&
              (one.kind === 'read' ? one.limit === promise.read : one.grade === promise.grade) &&
              one.light === promise.light &&
              isSameMark(one.distance, promise.distanceM) &&
              one.reference === (promise.reference ?? null),
          )
          const density =
            found === undefined || found.kind === 'read' || found.value === null || found.high === null
              ? null
              : { value: found.value, low: found.low, high: found.high }
          const name = promisedName(promise, walk.grading)
          return (
            <li key={index}>
              <VerdictFrame verdict={found?.verdict ?? 'not shown'} />
              <div>
                <p>
                  <strong>
                    {name} at {figures.distance(promise.distanceM)}
                  </strong>
                  , {promise.light}
                  {promise.reference === undefined ? '' : `, ${promise.reference}`}
                </p>
                {found === undefined ? (
                  <p class="faint">Nothing is measured for it yet.</p>
                ) : (
                  <p class="faint">
                    {density === null
                      ? ''
                      : `${pageSays['measured-against'](`${figures.density(density).value} (${figures.interval(density)}) ${figures.densityUnit}`, figures.limit(found.limit)).message}. `}
                    {asSentence(withMend(found.why, found.mend))}
                  </p>
                )}
              </div>
            </li>
          )
        })}
      </ol>
    </section>
  )
}

const NONE: never[] = []
