import { useEffect, useMemo } from 'preact/hooks'
import type { Interval, MaybeBound } from '../../../math/interval.js'
import type { Point } from '../../../math/point.js'
import { decide } from '../../../grade/gradings/decide.js'
import type { StillEntry } from '../../../walk/schemas/resultsSchema.js'
import { isChart } from '../../../measure/reference/reference.js'
import { ROUTES, type PagePick, type ReferenceView, type StillView, type WalkView } from '../../api.js'
import { StillPicture } from '../state/StillPicture.js'
import { DetailFigures } from './DetailFigures.js'
import { LimitRule } from './LimitRule.js'
import { liveAnswer } from './liveDensity.js'
import { measureDetail } from '../state/measureAndWrite.js'
import { usePart, useStore } from '../state/pageStore.js'
import {
  chartAtHand,
  clicksOf,
  draftOf,
  handPick,
  pickOf,
  pointsOf,
  referenceOf,
  stillOf,
} from '../state/shownPick.js'
import { promisedHere, verdictMeasured } from './promisedHere.js'
import { VerdictFrame } from './VerdictFrame.js'
import { walkFigures } from '../state/walkFigures.js'
import { pageSays } from '../../sentences.js'

/** Detail is measured once a hand has rested so long, ms. */
const RESTED_MS = 150

/** What the still at hand gives: density at once, by the corners as they are; detail, contrast and the straightened reference as they come. */
export function AnswerPanel() {
  const walk = usePart((state) => state.walk)!
  const still = usePart((state) => stillOf(state, state.current))
  const { reference, held, isMoving, live } = useLive(walk, still)
  const chart = usePart((state) => {
    const shown = stillOf(state, state.current)
    return shown === null || pickOf(state, shown) !== null ? null : chartAtHand(state, shown)
  })
  const isBegun = usePart((state) => {
    const shown = stillOf(state, state.current)
    return shown !== null && (draftOf(state, shown)?.clicks.length ?? 0) > 0
  })
  // Seen straight on before it is taken; no figure stands beside it.
  const proposed = usePart(({ snap, current }) =>
    snap?.file === current && snap?.answer?.ok === true ? snap.answer.pick.corners : null,
  )
  const { measured, failure } = useMeasured(still, chart?.reference ?? null, held, isMoving)
  if (still === null) return <aside class="answer" aria-label="What it gives" />
  const isFound = chart !== null
  const density = live?.density.ok === true ? live.density.value.density : (measured?.density ?? null)
  const gradeName = (id: string | null): string =>
    id === null
      ? 'Grade not known'
      : (walk.grading.grades.find((grade) => grade.id === id)?.name ?? 'No grade')
  const fault = live !== null && !live.density.ok ? live.density.message : null
  const points = chart !== null ? chart.corners : held === null ? proposed : pointsOf(held)
  return (
    // It scrolls where it is higher than its place, so it has to be reached by keyboard.
    <aside class="answer" aria-label="What it gives" tabIndex={0}>
      {density !== null ? (
        <DensityFigures
          walk={walk}
          density={density}
          byPixels={gradeName(live?.gradeByPixels ?? measured?.gradeByPixels ?? null)}
          detail={measured?.effectiveDensity ?? null}
        />
      ) : (
        <p class="answer-none">
          {fault !== null
            ? `${fault}.`
            : isFound
              ? 'The chart is being measured.'
              : isBegun
                ? 'Begun, not picked: there is no figure until all corners are placed, or the fitted outline is taken.'
                : still.state === 'unassigned'
                  ? 'Its name does not tell mark and light: give them above the still.'
                  : 'Nothing picked yet. The density stands here as soon as there are corners.'}
        </p>
      )}
      {density === null || reference === null ? null : (
        <Promised
          walk={walk}
          still={still}
          reference={reference.name}
          density={density}
          measured={measured}
        />
      )}
      {measured === null ? null : <DetailFigures entry={measured} walk={walk} gradeName={gradeName} />}
      {measured === null && held !== null && failure === null && fault === null ? (
        <p class="answer-wait">Measuring detail and contrast …</p>
      ) : null}
      {failure === null ? null : <p class="problem">{failure}</p>}
      {points === null || points.length !== 4 || reference === null || fault !== null ? null : (
        <Straightened still={still} reference={reference} points={points} />
      )}
      {still.problems
        .filter((one) => still.state !== 'unassigned' && concerns(one.code, reference))
        .map(({ code, message }) => (
          <p class="problem" key={`${code} ${message}`}>
            {message}
          </p>
        ))}
    </aside>
  )
}

/** Whether a problem of a still is one of the reference at hand: that there is no chart in it is none of a plate, nor of what nobody named yet. */
function concerns(code: string, reference: ReferenceView | null): boolean {
  return code !== 'chart-none' || (reference !== null && isChart(reference.reference))
}

/** A pick while a hand moves its points. */
function movedPick(held: PagePick, points: readonly Point[]): PagePick {
  const clicks = clicksOf(held).map((click, i) => ({ ...click, point: points[i]! }))
  return handPick(held.reference, clicks, held.doubts)
}

/** The still's reference and pick, and its density by the points as a hand holds them just now. */
function useLive(walk: WalkView, still: StillView | null) {
  const reference = usePart((state) => {
    const shown = stillOf(state, state.current)
    return shown === null ? null : referenceOf(state, shown)
  })
  const held = usePart((state) => {
    const shown = stillOf(state, state.current)
    return shown === null ? null : pickOf(state, shown)
  })
  const moving = usePart((state) => state.moving)
  const isMoving = moving !== null && moving.file === still?.file
  const pick = isMoving && held !== null ? movedPick(held, moving.points) : held
  const live = useMemo(
    () =>
      still === null || reference === null || pick === null ? null : liveAnswer(walk, still, reference, pick),
    [walk, still, reference, held, moving],
  )
  return { reference, held, isMoving, live }
}

/** What is measured of the found chart, or of the pick that is held, asked for once its hand rests; why it could not be. */
function useMeasured(
  still: StillView | null,
  foundChart: string | null,
  held: PagePick | null,
  isMoving: boolean,
): { readonly measured: StillEntry | null; readonly failure: string | null } {
  const store = useStore()
  const detail = usePart((state) => state.details.get(state.current ?? '') ?? null)
  const results = usePart((state) => state.results?.results ?? null)
  useEffect(() => {
    if (still === null || held === null || isMoving || store.state.details.get(still.file)?.of === held)
      return
    const timer = setTimeout(() => void measureDetail(store, still.file, held), RESTED_MS)
    return () => clearTimeout(timer)
  }, [still?.file, still?.stamp, held, isMoving])
  const answer = detail?.of === held ? detail?.answer : null
  const failure = answer?.ok === false ? answer.message : null
  if (still !== null && foundChart !== null)
    return {
      measured:
        results?.stills.find((one) => one.file === still.file && one.reference === foundChart) ?? null,
      failure,
    }
  return { measured: answer?.ok === true && !isMoving ? answer.entry : null, failure }
}

/** A density at the middle of the target and its interval, px/m. */
type OnTarget = Interval & { readonly onTarget: number }

interface DensityProps {
  readonly walk: WalkView
  readonly density: OnTarget
  /** Name of the grade by pixels. */
  readonly byPixels: string
  readonly detail: MaybeBound | null
}

function DensityFigures({ walk, density, byPixels, detail }: DensityProps) {
  const figures = walkFigures(walk)
  const pixels = { value: density.onTarget, low: density.low, high: density.high }
  return (
    <>
      <p class="density">
        <output class="density-value" data-value={density.onTarget}>
          {figures.density(pixels).value}
        </output>{' '}
        <span class="density-unit">{figures.densityUnit}</span>
      </p>
      <p class="density-interval">{figures.interval(pixels)}, 95 %</p>
      <p class="grade-line">
        <strong>{byPixels}</strong> by pixels
      </p>
      <LimitRule grading={walk.grading} figures={figures} pixels={pixels} detail={detail} />
    </>
  )
}

interface PromisedProps {
  readonly walk: WalkView
  readonly still: StillView
  readonly reference: string
  readonly density: OnTarget
  readonly measured: StillEntry | null
}

function Promised({ walk, still, reference, density, measured }: PromisedProps) {
  return (
    <>
      {promisedHere(walk, still, reference).map((grade) => (
        <p class="promised" key={grade.id}>
          <VerdictFrame
            verdict={
              measured === null ? decide(density, grade.limit) : verdictMeasured(measured, grade, walk)
            }
          />
          <span>
            {
              pageSays['promised-here'](
                measured === null || walk.judge === 'pixels' ? 'by pixels' : 'with detail',
                grade.name,
                walkFigures(walk).limit(grade.limit),
              ).message
            }
          </span>
        </p>
      ))}
    </>
  )
}

interface StraightenedProps {
  readonly still: StillView
  readonly reference: ReferenceView
  readonly points: readonly Point[]
}

function Straightened({ still, reference: { name, size }, points }: StraightenedProps) {
  const { file, stamp } = still
  return (
    <figure class="straight">
      <StillPicture
        path={ROUTES.rectified}
        parameters={{ file, stamp, reference: name, points: points.flat().join(',') }}
        alt={`The ${name} seen straight on, as it is measured`}
      />
      <figcaption>
        {name}, {size}, straightened
      </figcaption>
    </figure>
  )
}
