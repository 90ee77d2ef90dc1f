import { whyApart } from '../../grade/marks/seriesSize.js'
import { combineRepeats } from '../../grade/marks/combineRepeats.js'
import type { ComparableMark, ComparableWalk } from '../../grade/compare/comparison.js'
import { DEFAULT_FULL_DETAIL_AT } from '../../grade/gradings/grading.js'
import type { JudgedStill } from '../../grade/judgement.js'
import { groupBy } from '../../math/groupBy.js'
import { judgedStillOf } from './judgedStillOf.js'
import type { MeasuredWalk, StillEntry, WalkResults } from '../schemas/resultsSchema.js'
import { isSameMark } from '../read/sameMark.js'

/** Whether the results say how every uncertainty is made up, which a comparison needs: those of an older version may not. */
export function tellsBudgets(results: WalkResults): boolean {
  return results.stills.every(({ budget }) => budget !== undefined)
}

/** The results of a walk as they are held against another walk's. Marks that were left out of the walk's own fit are left out here too. */
export function comparableWalk(results: WalkResults): ComparableWalk {
  const { walk, grading } = results
  const counted = results.stills.filter(counts)
  const stills = counted.flatMap((entry) => judgedStillOf(entry, results) ?? [])
  const series = groupBy(stills, ({ light, reference }) => JSON.stringify([light, reference]))
  return {
    method: results.method,
    camera: { name: walk.camera.name, id: walk.camera.id, serial: walk.camera.serial },
    stillSizes: [...new Set(counted.map(({ width, height }) => `${width} x ${height}`))],
    pictures: [
      ...new Map(
        results.stills.flatMap((still) => (still.sameAs === null ? [[still.file, still]] : [])),
      ).values(),
    ],
    distanceFrom: walk.distance.from,
    distanceToleranceM: walk.distance.tolerance,
    references: Object.fromEntries(
      Object.entries(walk.references).map(([name, reference]) => [name, sizeWords(reference)]),
    ),
    grading: grading.id,
    judge: walk.judge,
    fullDetailAt: grading.fullDetailAt ?? DEFAULT_FULL_DETAIL_AT,
    lights: walk.lights,
    marks: [...series.values()].flatMap((group) => comparableMarks(group, results)),
    promises: results.promises,
    units: walk.units,
  }
}

function comparableMarks(stills: readonly JudgedStill[], results: WalkResults): ComparableMark[] {
  return combineRepeats(stills).flatMap((measured): ComparableMark[] => {
    const mark = results.marks.find(
      (one) =>
        one.light === measured.light &&
        one.reference === measured.reference &&
        isSameMark(one.distance, measured.distanceM),
    )
    if (mark === undefined || mark.leftOut) return []
    return [{ measured, usable: mark.usable }]
  })
}

/** Whether a still counts: its picture once, and where it is of its series. */
export function counts({ sameAs, problems }: StillEntry): boolean {
  return sameAs === null && whyApart(problems) === undefined
}

/** What a reference is, in words that are the same only for the same size. */
function sizeWords(reference: MeasuredWalk['references'][string]): string {
  const mm = (lengthM: number): string => String(Number((lengthM * 1000).toFixed(2)))
  if ('length' in reference) return `${mm(reference.length)} mm long`
  const size = `${mm(reference.width)} x ${mm(reference.height)} mm`
  return 'chart' in reference ? `the ${reference.chart} chart, ${size}` : size
}
