import { askedDetail, type Grading, limitsOf, promisedName } from '../../grade/gradings/grading.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import type { MarkPrediction } from '../../lens/predictMark.js'
import type { Estimate } from '../../math/interval.js'
import { type Figures, figuresFor } from '../../units/figures.js'
import { groupBy } from '../../math/groupBy.js'
import { asSentence } from '../../sentences.js'
import type { PlannedPromise, WalkPlan } from '../../walk/plan/planWalk.js'
import { planSays } from '../../walk/plan/sentences.js'
import { stillOf, stillsToTake } from '../../walk/plan/stillsToTake.js'
import {
  groundWords,
  lensWords,
  noLensWords,
  paperWords,
  purposeWords,
  tapeWords,
} from '../../walk/plan/planWords.js'
import type { Walk } from '../../walk/read/walk.js'
import { textTable } from '../terminal/textTable.js'

/** What `plan` prints of a walk: the lens as read, contradictions, each mark, how far each grade should hold, promises, ground, chart, and what is missing. */
export function planTable(walk: Walk, plan: WalkPlan): string {
  const figures = figuresFor(walk.units, limitsOf(walk.grading))
  return [
    sheetLines(plan),
    markTable(walk, plan, figures),
    rangeTable(plan, walk.grading, figures),
    promiseTable(walk, plan, figures),
    orderTable(walk, plan, figures),
    paragraph('On the ground', groundWords(plan, walk)),
    paragraph('To print', [paperWords(plan, walk.units)]),
    paragraph('Missing in walk.yaml', plan.missing),
  ]
    .filter((part) => part !== '')
    .join('\n')
}

function sheetLines(plan: WalkPlan): string {
  const contradictions = plan.contradictions.map(
    ({ message, relative }) => `${percent(relative)}: ${message}`,
  )
  const agrees =
    plan.reading?.readFrom === 'both-angles' && contradictions.length === 0 ? ['it agrees with itself'] : []
  return paragraph('What the data sheet says (a claim, nothing here is measured)', [
    lensWords(plan) ?? noLensWords(plan),
    ...plan.readings.map(({ message }) => message),
    ...contradictions,
    ...agrees,
  ])
}

function lensOf({ reading }: WalkPlan): CameraLens | null {
  return reading?.lens ?? null
}

function percent(relative: number): string {
  const share = Math.abs(relative * 100)
  return `contradiction of ${share.toFixed(share < 9.95 ? 1 : 0)} %`
}

function markTable(walk: Walk, plan: WalkPlan, figures: Figures): string {
  const hasLens = lensOf(plan) !== null
  const hasHeights = plan.marks.some(({ alongGroundM }) => alongGroundM !== null)
  const byGround = walk.distance.from === 'ground'
  const density = (value: number | null): string => (value === null ? '-' : figures.plainDensity(value))
  const length = (value: number | null): string => (value === null ? '-' : figures.distance(value))
  const head = [
    'mark',
    ...(hasHeights ? [byGround ? 'line of sight' : 'along the ground'] : []),
    ...(hasLens
      ? [figures.densityUnit, 'low to high', 'at the edge', 'if rectilinear', 'width of view']
      : []),
    'purpose',
  ]
  const rows = plan.marks.map((mark) => ({
    cells: [
      figures.distance(mark.distanceM),
      ...(hasHeights ? [length(byGround ? mark.lineOfSightM : mark.alongGroundM)] : []),
      ...(hasLens
        ? [
            density(mark.densityPxPerM),
            foretold(mark, figures),
            density(mark.densityAtEdgePxPerM),
            density(mark.rectilinearDensityPxPerM),
            length(mark.widthOfViewM),
          ]
        : []),
      purposeWords(mark.purpose, mark.distanceM, walk),
    ],
  }))
  const aligns = [...head.slice(0, -1).map(() => 'right' as const), 'left' as const]
  const added = plan.marks.filter(
    ({ distanceM }) => !walk.marksM.some((one) => Math.abs(one - distanceM) < 0.011),
  )
  const adding =
    walk.marksM.length > 0 && added.length > 0
      ? `  not among the walk's marks yet: ${added.map(({ distanceM }) => figures.distance(distanceM - walk.distance.beginsM)).join(', ')}\n`
      : ''
  const along = byGround ? `, along the ground, to the ${plan.reference}` : ''
  const reads = tapeWords(walk)
  return `Marks to measure out${along}\n${textTable(head, rows, aligns)}${reads === null ? '' : `  ${reads}\n`}${adding}`
}

function rangeTable(plan: WalkPlan, grading: Grading, figures: Figures): string {
  const { ranges, reading } = plan
  if (reading === null || lensOf(plan) === null) return ''
  const to = (distanceM: number | null): string =>
    distanceM === null ? 'nowhere' : figures.distance(distanceM)
  const rows = ranges.map(({ grade, distanceM, boundsM, rectilinearDistanceM }) => ({
    cells: [
      grade.name,
      figures.bareLimit(grade.limit),
      figures.stroke(askedDetail(grade, grading)),
      to(distanceM),
      distanceM === null ? '-' : reachWords({ value: distanceM, ...boundsM! }, figures),
      ...(reading.rectilinearPixelsPerRadian === null ? [] : [to(rectilinearDistanceM)]),
    ],
  }))
  const head = ['grade', 'limit, px/m', `finest stroke, ${figures.strokeUnit}`, 'out to', 'low to high']
  if (reading.rectilinearPixelsPerRadian !== null) head.push('if rectilinear')
  return `How far each grade should hold in the middle of the picture, by pixels\n${textTable(head, rows, ['left', 'right', 'right', 'right', 'right', 'right'])}`
}

function promiseTable(walk: Walk, plan: WalkPlan, figures: Figures): string {
  const { promises } = plan
  if (promises.length === 0) return ''
  const hasLens = lensOf(plan) !== null
  const stills = stillsToTake(walk, plan)
  const density = (value: number | null): string => (value === null ? '-' : figures.plainDensity(value))
  const rows = promises.map((planned) => {
    const { promise, grade, rectilinearDensityPxPerM, neededPxPerM } = planned
    const foretoldThere = [
      density(planned.densityPxPerM),
      foretold(planned, figures),
      density(rectilinearDensityPxPerM),
      neededPxPerM === null ? '-' : figures.needed(neededPxPerM, promise.kind === 'most'),
    ]
    return {
      cells: [
        String(stillOf(planned, stills) ?? '-'),
        promisedName(promise, walk.grading),
        figures.distance(promise.distanceM),
        promise.light,
        promise.reference ?? 'every',
        grade === null ? '-' : figures.bareLimit(grade.limit),
        ...(hasLens ? [...foretoldThere, expected(planned)] : []),
      ],
    }
  })
  const head = ['still', 'promised', 'at', 'light', 'reference', 'limit, px/m']
  const lensHead = [figures.densityUnit, 'low to high', 'if rectilinear', `needs, ${figures.densityUnit}`]
  if (hasLens) head.push(...lensHead, 'by the data sheet')
  const ahead = [
    'right',
    'left',
    'right',
    'left',
    'left',
    'right',
    'right',
    'right',
    'right',
    'right',
  ] as const
  const table = textTable(head, rows, hasLens ? [...ahead, 'left'] : ahead.slice(0, 6))
  if (!hasLens) return `The still that shows each promise\n${table}`
  const needs = `  ${asSentence(planSays.needs(walk.judge === 'detail').message)}\n`
  return `What to expect of the promises, by pixels\n${table}${needs}`
}

/** The stills to take, light by light, by their numbers, which the promises and the printed plan name. */
function orderTable(walk: Walk, plan: WalkPlan, figures: Figures): string {
  const rows = [...groupBy(stillsToTake(walk, plan), ({ light }) => light)].map(([light, stills]) => ({
    cells: [
      light,
      stills
        .map(
          ({ number, mark }) => `${number}: ${mark === null ? 'walking' : figures.distance(mark.distanceM)}`,
        )
        .join(', '),
    ],
  }))
  return `Stills to take, in this order\n${textTable(['light', 'still: mark'], rows, ['left', 'left'])}`
}

function reachWords(distance: Estimate, figures: Figures): string {
  const { low, high } = figures.reach(distance)
  return `${low} to ${high}`
}

/** What the sheet's written digits leave of a density. */
function foretold(
  { densityPxPerM, boundsPxPerM }: Pick<MarkPrediction, 'densityPxPerM' | 'boundsPxPerM'>,
  figures: Figures,
): string {
  return densityPxPerM === null ? '-' : figures.interval({ value: densityPxPerM, ...boundsPxPerM! })
}

/** Whether a promise should be kept, in a word; where the two readings part, or the written digits leave both, that is what is said. */
function expected({
  boundsPxPerM,
  rectilinearDensityPxPerM,
  grade,
  promise,
  ...planned
}: PlannedPromise): string {
  if (boundsPxPerM === null || grade === null) return '-'
  const { limit } = grade
  const [reads, straight] = [
    boundsPxPerM.low >= limit,
    (rectilinearDensityPxPerM ?? boundsPxPerM.high) >= limit,
  ]
  if (!reads && boundsPxPerM.high >= limit) return 'too close to say'
  if (reads !== straight) return 'depends on the lens'
  if (promise.kind === 'most') return reads ? 'sees too much' : 'should hold'
  if (!reads) return 'falls short'
  return (planned.densityPxPerM ?? limit) < (planned.neededPxPerM ?? limit)
    ? 'too close to show'
    : 'should hold'
}

function paragraph(title: string, lines: readonly (string | null)[]): string {
  const told = lines.filter((line) => line !== null)
  return told.length === 0 ? '' : `${title}\n${told.map((line) => `  ${line}\n`).join('')}`
}
