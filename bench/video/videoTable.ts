import { median } from '../../src/math/median.js'
import type { ReferenceRow, StillRow } from './measureVideo.js'

/** What a still's k should say: read under half is too little, nine tenths and more is legible. */
const UNREAD = 0.5
const LEGIBLE = 0.9
const LEAST_K = 5
/** From here on strips of this size decide: below, not shown may stand. */
const LEAST_DENSITY = 140
/** A promise is so much under what is there, to see whether it is met. */
const ROOM = 1.1

const percent = (part: number, all: number): string => (all === 0 ? '-' : ((100 * part) / all).toFixed(0))
const mean = (all: readonly number[]): number => all.reduce((sum, one) => sum + one, 0) / all.length
const rms = (all: readonly number[]): number => Math.sqrt(mean(all.map((one) => one * one)))
const shown = (all: readonly number[], digits: number): string =>
  all.length === 0 ? '-' : median(all).toFixed(digits)
const aligned = (lines: readonly (readonly string[])[]): string => {
  const widths = lines[0]!.map((_, column) => Math.max(...lines.map((line) => line[column]!.length)))
  return lines
    .map((line) =>
      line
        .map((word, column) => (column === 0 ? word.padEnd(widths[0]!) : word.padStart(widths[column]!)))
        .join('  '),
    )
    .join('\n')
}

/** The bench's tables, pooled by `groupOf` and kind of frame. `clean` are stills by day without processing, whose widths the others' are held against. */
export function videoTable(
  rows: readonly StillRow[],
  clean: readonly StillRow[],
  groupOf: (row: StillRow) => string,
): string {
  const groups = new Map<string, StillRow[]>()
  for (const row of rows) {
    const name = `${groupOf(row)}, ${row.frame}`
    groups.set(name, [...(groups.get(name) ?? []), row])
  }
  const byReference = (which: 'chart' | 'board') =>
    aligned([
      [
        '',
        'stills',
        'told',
        'covered %',
        'bias %',
        'rms %',
        'U %',
        'z',
        'U/clean',
        'f10/optics',
        'low over truth',
        '10 % over, met',
      ],
      ...[...groups].map(([name, all]) => densityLine(name, all, clean, which)),
    ])
  const codes = [...groups].map(
    ([name, all]) =>
      `${name}: chart ${counted(all.map(({ chart }) => chart))}; board ${counted(all.map(({ board, snapRefused }) => ({ ...board, codes: [...board.codes, ...(snapRefused === null ? [] : [snapRefused])] })))}`,
  )
  const k = aligned([
    [
      '',
      ...[8, 16].flatMap((mm) =>
        ['24 %', 'full'].flatMap((at) => [`${mm} mm at ${at}: passed unread`, 'failed legible']),
      ),
      'legible, no board grade',
    ],
    ...[...groups].map(([name, all]) => legibilityLine(name, all)),
  ])
  const strips = aligned([
    [
      '',
      'read',
      'U of A %',
      'A 10 % over, met',
      ...[8, 16].flatMap((mm) => [
        `${mm} mm at 24 %: passed unread`,
        'failed legible over 140 px/m',
        'not shown there',
        'failed legible under',
        'not shown there',
      ]),
    ],
    ...[...groups].map(([name, all]) => stripsLine(name, all)),
    stripsLine('all', rows),
  ])
  return [
    `chart, found`,
    byReference('chart'),
    '',
    'board, snapped',
    byReference('board'),
    '',
    'strips under the chart against what a matched filter reads',
    strips,
    '',
    'k of the board against what a matched filter reads',
    k,
    '',
    'codes',
    ...codes,
  ].join('\n')
}

function densityLine(
  name: string,
  all: readonly StillRow[],
  clean: readonly StillRow[],
  which: 'chart' | 'board',
): string[] {
  const told = all.filter(
    (row) => row[which].refused === null && (which === 'chart' || row.snapRefused === null),
  )
  const axes = told.flatMap((row) => row[which].axes)
  const cleanOf = new Map(
    clean
      .filter((row) => row[which].refused === null)
      .map((row) => [`${row.walker} ${row.frame}`, row[which].axes]),
  )
  const widths = told.flatMap((row) => {
    const beside = cleanOf.get(`${row.walker} ${row.frame}`)
    return beside === undefined ? [] : row[which].axes.map(({ U }, axis) => U / beside[axis]!.U)
  })
  const f10 = told.flatMap((row) => row[which].f10 ?? [])
  const lows = told.flatMap((row) => row[which].effectiveLow ?? [])
  return [
    name,
    `${all.length}`,
    `${told.length}`,
    percent(axes.filter(({ error, U }) => Math.abs(error) <= U).length, axes.length),
    axes.length === 0 ? '-' : (100 * mean(axes.map(({ error }) => error))).toFixed(2),
    axes.length === 0 ? '-' : (100 * rms(axes.map(({ error }) => error))).toFixed(2),
    axes.length === 0 ? '-' : (100 * median(axes.map(({ U }) => U))).toFixed(2),
    axes.length === 0 ? '-' : rms(axes.map(({ error, U }) => (2 * error) / U)).toFixed(2),
    shown(widths, 2),
    `${shown(f10, 2)} of ${f10.length}`,
    `${lows.filter((low) => low > 1).length} of ${lows.length}`,
    `${all.filter((row) => meets(row[which])).length} of ${all.length}`,
  ]
}

/** Whether a promise by pixels that the truth exceeds by a tenth would be met. */
const meets = ({ refused, axes }: ReferenceRow): boolean =>
  refused === null && axes.every(({ error, U }) => (1 + error) * (1 - U) >= 1 / ROOM)

function counted(references: readonly Pick<ReferenceRow, 'refused' | 'codes'>[]): string {
  const counts = new Map<string, number>()
  for (const { refused, codes } of references)
    for (const code of refused === null ? codes : [`no measurement: ${refused}`])
      counts.set(code, (counts.get(code) ?? 0) + 1)
  return (
    [...counts]
      .sort((a, b) => b[1] - a[1])
      .map(([code, n]) => `${code} ${n}`)
      .join(', ') || 'nothing told'
  )
}

function stripsLine(name: string, all: readonly StillRow[]): string[] {
  const read = all.filter(({ chart }) => chart.strips !== null)
  const rels = read.map(({ chart }) => 100 * chart.strips!.rel)
  return [
    name,
    `${read.length}`,
    shown(rels, 0),
    // Its low end against a limit that the figure itself exceeds by a tenth.
    `${read.filter(({ chart }) => 1 - chart.strips!.rel >= 1 / ROOM).length} of ${read.length}`,
    ...[8, 16].flatMap((mm) => {
      const [card, stroke] = mm === 8 ? [0, 1] : [1, 0]
      // Where strips are not read, nothing is shown.
      const said = all.map((row) => ({
        read: row.read[card]!,
        isNear: row.densityPxPerM >= LEAST_DENSITY,
        verdict: row.chart.strips?.verdicts[stroke] ?? 'not shown',
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
    }),
  ]
}

function legibilityLine(name: string, all: readonly StillRow[]): string[] {
  const cells = [8, 16].flatMap((mm) =>
    [0, 2].flatMap((contrast) => {
      const at = contrast + (mm === 8 ? 0 : 1)
      const withK = all.flatMap(({ read, board }) => {
        const k = board.k[mm === 8 ? 1 : 0]
        return k === null || k === undefined ? [] : [{ read: read[at]!, passed: k >= LEAST_K }]
      })
      const unread = withK.filter(({ read }) => read < UNREAD)
      const legible = withK.filter(({ read }) => read >= LEGIBLE)
      return [
        `${unread.filter(({ passed }) => passed).length} of ${unread.length}`,
        `${legible.filter(({ passed }) => !passed).length} of ${legible.length}`,
      ]
    }),
  )
  const legible = all.filter(({ read, densityPxPerM }) => read[2]! >= LEGIBLE && densityPxPerM >= 150)
  return [
    name,
    ...cells,
    `${legible.filter(({ board }) => board.usable !== true).length} of ${legible.length}`,
  ]
}
