import { useEffect, useMemo } from 'preact/hooks'
import { densityFigure, limitText, measuresFor } from '../../../units/measures.js'
import { ROUTES, type PagePick } from '../../api.js'
import { address } from '../state/callServer.js'
import { DetailFigures } from './DetailFigures.js'
import { LimitRule } from './LimitRule.js'
import { liveAnswer } from './liveDensity.js'
import { measureDetail } from '../state/measureAndWrite.js'
import { usePart, useStore } from '../state/pageStore.js'
import { handPick, pickOf, pointsOf, referenceOf, stillOf } from '../state/shownPick.js'
import { promisedHere, verdictByPixels, verdictMeasured } from './promisedHere.js'
import { VerdictFrame } from './VerdictFrame.js'

/** Detail is measured once a hand has rested so long, ms. */
const RESTED_MS = 150

/** What the still at hand gives: density at once, by the corners as they are; detail, contrast and the straightened reference as they come. */
export function AnswerPanel() {
  const store = useStore()
  const walk = usePart((state) => state.walk)!
  const still = usePart((state) => stillOf(state, state.current))
  const reference = usePart((state) => {
    const shown = stillOf(state, state.current)
    return shown === null ? null : referenceOf(state, shown)
  })
  const held = usePart((state) => {
    const shown = stillOf(state, state.current)
    return shown === null ? null : pickOf(state, shown)
  })
  const moving = usePart((state) => state.moving)
  const detail = usePart((state) => state.details.get(state.current ?? '') ?? null)
  const results = usePart((state) => state.results?.results ?? null)
  const isMoving = moving !== null && moving.file === still?.file
  const pick: PagePick | null =
    isMoving && reference !== null ? handPick(reference.name, moving.points) : held
  const live = useMemo(
    () =>
      still === null || reference === null || pick === null ? null : liveAnswer(walk, still, reference, pick),
    [walk, still, reference, held, moving],
  )
  useEffect(() => {
    if (still === null || held === null || isMoving || store.state.details.get(still.file)?.of === held)
      return
    const timer = setTimeout(() => void measureDetail(store, still.file, held), RESTED_MS)
    return () => clearTimeout(timer)
  }, [still?.file, still?.stamp, held, isMoving])

  if (still === null) return <aside class="answer" aria-label="What it gives" />
  const measured =
    still.state === 'chart'
      ? (results?.stills.find((one) => one.file === still.file && one.reference === still.reference) ?? null)
      : detail !== null && detail.of === held && !isMoving && detail.answer?.ok === true
        ? detail.answer.entry
        : null
  const measures = measuresFor(walk.units)
  const density = live?.density.ok === true ? live.density.value.density : (measured?.density ?? null)
  const byPixels = live?.gradeByPixels ?? measured?.gradeByPixels ?? null
  const gradeName = (id: string | null): string =>
    id === null
      ? 'Grade not told'
      : (walk.grading.grades.find((grade) => grade.id === id)?.name ?? 'No grade')
  const fault = live !== null && !live.density.ok ? live.density.message : null
  const failure =
    detail !== null && detail.of === held && detail.answer?.ok === false ? detail.answer.message : null
  const points = still.state === 'chart' ? still.chartCorners : held === null ? null : pointsOf(held)
  return (
    <aside class="answer" aria-label="What it gives">
      {density === null ? (
        <p class="answer-none">
          {fault === null
            ? still.state === 'chart'
              ? 'The chart is being measured.'
              : 'Nothing picked yet. The density stands here as soon as there are corners.'
            : `${fault}.`}
        </p>
      ) : (
        <>
          <p class="density">
            <output class="density-value" data-value={density.onTarget}>
              {densityFigure(measures, density.onTarget)}
            </output>{' '}
            <span class="density-unit">{measures.densityUnit}</span>
          </p>
          <p class="density-interval">
            {densityFigure(measures, density.low)} to {densityFigure(measures, density.high)}, 95 %
          </p>
          <p class="grade-line">
            <strong>{gradeName(byPixels)}</strong> by pixels
          </p>
          <LimitRule
            grading={walk.grading}
            pixels={{ value: density.onTarget, low: density.low, high: density.high }}
            detail={measured?.effectiveDensity ?? null}
          />
        </>
      )}
      {density === null || reference === null
        ? null
        : promisedHere(walk, still, reference.name).map((grade) => (
            <p class="promised" key={grade.id}>
              <VerdictFrame
                verdict={
                  measured === null ? verdictByPixels(density, grade) : verdictMeasured(measured, grade, walk)
                }
              />
              <span>
                {measured === null || walk.judge === 'pixels' ? 'by pixels' : 'with detail'}: {grade.name} is
                promised here, {limitText(measures, grade.limit)}
              </span>
            </p>
          ))}
      {measured === null ? null : <DetailFigures entry={measured} walk={walk} gradeName={gradeName} />}
      {measured === null && held !== null && failure === null && fault === null ? (
        <p class="answer-wait">Measuring detail and contrast …</p>
      ) : null}
      {failure === null ? null : <p class="problem">{failure}</p>}
      {points === null || points.length !== 4 || reference === null || fault !== null ? null : (
        <figure class="straight">
          <img
            src={address(ROUTES.rectified, {
              file: still.file,
              stamp: still.stamp,
              reference: reference.name,
              points: points.flat().join(','),
            })}
            alt={`The ${reference.name} seen straight on, as it is measured`}
          />
          <figcaption>
            {reference.name}, {reference.size}, straightened
          </figcaption>
        </figure>
      )}
      <Problems problems={still.problems} />
    </aside>
  )
}

function Problems({
  problems,
}: {
  readonly problems: readonly { readonly code: string; readonly message: string }[]
}) {
  return (
    <>
      {problems.map(({ code, message }) => (
        <p class="problem" key={code}>
          {message}
        </p>
      ))}
    </>
  )
}
