import { median } from '../../src/math/median.js'
import type { ReferenceRow, StillRow } from './measureVideo.js'
import { stripsTable } from './stripsTable.js'
import { aligned, LEGIBLE, mean, ROOM, shown, UNREAD } from './tableParts.js'

const LEAST_K = 5

const percent = (part: number, all: number): string => (all === 0 ? '-' : ((100 * part) / all).toFixed(0))
const rms = (all: readonly number[]): number => Math.sqrt(mean(all.map((one) => one * one)))

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
  return [
    `chart, found`,
    byReference('chart'),
    '',
    'board, snapped',
    byReference('board'),
    '',
    'strips under the chart against what a matched filter reads',
    stripsTable(rows, groupOf),
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
