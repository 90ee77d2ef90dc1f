import { describe, expect, it } from 'vitest'
import { clipsOf, codedStills } from '../../bench/video/codedStills.js'
import { measureVideo } from '../../bench/video/measureVideo.js'
import { SETTINGS } from '../../bench/video/settings.js'
import { videoTable } from '../../bench/video/videoTable.js'
import { drawWalker } from '../../bench/video/walker.js'
import { hasFfmpeg } from '../support/ffmpeg.js'

// A small part of the bench of real codecs: one walker of 149 px/m, a sharp lens.
describe.skipIf(!hasFfmpeg())('a walker behind what recorders do (needs ffmpeg)', () => {
  const walker = drawWalker(2)
  const clips = clipsOf(walker)
  const rowsOf = async (setting: (typeof SETTINGS)[number]) => {
    const rows = []
    for (const still of await codedStills(walker, setting, clips))
      rows.push(await measureVideo(walker, setting, still))
    return rows
  }
  /** What was measured before: several tests look at the same stills. */
  const known = new Map<string, ReturnType<typeof rowsOf>>()
  const measured = async (...names: readonly string[]) => {
    const rows = []
    for (const setting of SETTINGS.filter(({ name }) => names.includes(name))) {
      if (!known.has(setting.name)) known.set(setting.name, rowsOf(setting))
      rows.push(...(await known.get(setting.name)!))
    }
    expect(rows.length).toBe(2 * names.length)
    return rows
  }

  it('holds the density of charts coded at night, calls none bent and no light uneven', async () => {
    const rows = await measured('night h.264 4', 'night h.265 4', 'night h.265 1')
    console.log(videoTable(rows, [], ({ setting }) => setting))
    const axes = rows.flatMap(({ chart }) => chart.axes)
    // Without what blocks of pixels tell, 5 of 12 held, two charts were called bent and three lights uneven.
    expect(axes.length).toBe(12)
    expect(axes.filter(({ error, U }) => Math.abs(error) <= U).length).toBeGreaterThanOrEqual(11)
    const codes = rows.flatMap(({ chart }) => chart.codes)
    expect(codes.filter((code) => /^chart-(bent|uneven-light|part-covered)$/.test(code))).toEqual([])
    for (const { U } of axes) expect(U).toBeLessThan(0.01)
  })

  it('judges strokes by the strips as they are read', async () => {
    const rows = await measured('day', 'night h.264 4', 'night h.265 4', 'night h.265 1')
    const said = rows.flatMap(({ chart, read }) =>
      // Strokes of 8 and of 16 mm.
      [0, 1].map((card) => ({ read: read[card]!, verdict: chart.strips!.verdicts[1 - card]! })),
    )
    expect(said.filter(({ read, verdict }) => verdict === 'met' && read < 0.5)).toEqual([])
    expect(said.filter(({ read, verdict }) => verdict !== 'met' && read >= 0.9)).toEqual([])
    expect(new Set(said.map(({ verdict }) => verdict)).size).toBeGreaterThanOrEqual(2)
  })

  it('reads characters by day, and at night those that show', async () => {
    const [byDay] = await measured('day')
    expect(byDay!.read).toEqual([1, 1, 1, 1])
    expect(byDay!.chart.codes).toEqual([])
    const [night] = await measured('night h.265 1')
    expect(night!.read[0]).toBeLessThan(0.2)
    expect(night!.read[3]).toBe(1)
  })

  it('tells a chart torn by two fields, and neither covered nor absent', async () => {
    const rows = await measured('day woven 1.2 m/s 1/100 s h.264 4')
    for (const { chart } of rows) expect(chart.refused).toBe('interlaced')
  })

  it('tells the smear of a step while the shutter is open', async () => {
    const rows = await measured('day 1.2 m/s 1/25 s h.264 4')
    for (const { chart } of rows) expect(chart.codes).toContain('moving')
  })
})
