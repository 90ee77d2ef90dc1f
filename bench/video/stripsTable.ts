import { groupBy } from '../../src/math/groupBy.js'
import { poolStrips } from '../../src/measure/strip/poolStrips.js'
import { stripsSay, type StillRow, type StripsRow } from './measureVideo.js'
import { aligned, LEGIBLE, mean, ROOM, shown, UNREAD } from './tableParts.js'

/** From here on strips of this size decide: below, not shown may stand. */
const LEAST_DENSITY = 140

/** What strips say of strokes, and what of them was read: of a still, or of all stills of a mark. */
interface StrokesRow extends Pick<StillRow, 'densityPxPerM' | 'read'> {
  readonly strips: StripsRow | null
}

/** Strips of single stills, and of the stills of one mark pooled: of each kind of frame by themselves, and of both. */
export function stripsTable(rows: readonly StillRow[], groupOf: (row: StillRow) => string): string {
  const families = groupBy(rows, groupOf)
  const byFrame = groupBy(rows, (row) => `${groupOf(row)}, ${row.frame}`)
  const single = [...byFrame].map(([name, all]) => stripsLine(name, all.map(ofStill)))
  const pooled = [...families].flatMap(([name, all]) =>
    (['I', 'P', 'IP'] as const).flatMap((kind) => {
      const marks = marksOf(all.filter(({ frame }) => kind.includes(frame)))
      if (marks.every(({ length }) => length < 2)) return []
      const many = Math.max(...marks.map(({ length }) => length))
      return [stripsLine(`${name}, ${many} ${kind}`, marks.map(ofMark))]
    }),
  )
  return aligned([
    HEAD,
    ...single,
    stripsLine('all', rows.map(ofStill)),
    HEAD.map((_, column) => (column === 0 ? 'pooled' : '')),
    ...pooled,
    stripsLine('all marks', marksOf(rows).map(ofMark)),
  ])
}

const HEAD = [
  '',
  'read',
  'U of A %',
  'A 10 % over, met',
  'over 140 px/m',
  ...[8, 16].flatMap((mm) => [
    `${mm} mm at 24 %: passed unread`,
    'failed legible over 140 px/m',
    'not shown there',
    'failed legible under',
    'not shown there',
  ]),
]

const ofStill = ({ densityPxPerM, read, chart: { strips } }: StillRow): StrokesRow => ({
  densityPxPerM,
  read,
  strips,
})

/** The stills of one walker behind one setting. */
const marksOf = (rows: readonly StillRow[]): StillRow[][] => [
  ...groupBy(rows, ({ setting, walker }) => `${walker} ${setting}`).values(),
]

function ofMark(stills: readonly StillRow[]): StrokesRow {
  const told = stills.filter(({ chart }) => chart.strips !== null)

  const counted = told.length > 0 ? told : stills
  return {
    densityPxPerM: stills[0]!.densityPxPerM,
    read: stills[0]!.read.map((_, card) => mean(counted.map(({ read }) => read[card]!))),
    strips: told.length === 0 ? null : stripsSay(poolStrips(told.map(({ chart }) => chart.strips!.detail))),
  }
}

function stripsLine(name: string, all: readonly StrokesRow[]): string[] {
  const told = all.flatMap(({ densityPxPerM, strips }) =>
    strips === null ? [] : [{ densityPxPerM, rel: strips.rel }],
  )
  // Its low end against a limit that the figure itself exceeds by a tenth.
  const meets = (some: typeof told): string =>
    `${some.filter(({ rel }) => 1 - rel >= 1 / ROOM).length} of ${some.length}`
  return [
    name,
    `${told.length}`,
    shown(
      told.map(({ rel }) => 100 * rel),
      0,
    ),
    meets(told),
    meets(told.filter(({ densityPxPerM }) => densityPxPerM >= LEAST_DENSITY)),
    ...[8, 16].flatMap((mm) => strokeCells(all, mm === 8 ? { card: 0, stroke: 1 } : { card: 1, stroke: 0 })),
  ]
}

function strokeCells(all: readonly StrokesRow[], { card, stroke }: { card: number; stroke: number }) {
  // Where strips are not read, nothing is shown.
  const said = all.map(({ read, densityPxPerM, strips }) => ({
    read: read[card]!,
    isNear: densityPxPerM >= LEAST_DENSITY,
    verdict: strips?.verdicts[stroke] ?? 'not shown',
  }))
  const unread = said.filter((one) => one.read < UNREAD)
  const legible = said.filter((one) => one.read >= LEGIBLE)
  const failed = [true, false].flatMap((near) => {
    const here = legible.filter(({ isNear }) => isNear === near)
    return (['not met', 'not shown'] as const).map(
      (wanted) => `${here.filter(({ verdict }) => verdict === wanted).length} of ${here.length}`,
    )
  })
  return [`${unread.filter(({ verdict }) => verdict === 'met').length} of ${unread.length}`, ...failed]
}
