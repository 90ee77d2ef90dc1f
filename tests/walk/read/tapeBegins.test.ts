import { describe, expect, it } from 'vitest'
import { markView } from '../../../src/page/server/walk/stillViews.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import type { Walk } from '../../../src/walk/read/walk.js'
import { findStills } from '../../../src/walk/stills/findStills.js'
import { FOOT_M } from '../../../src/units/formatLength.js'
import { expectNear } from '../../nearly.js'
import { temporaryWalk } from '../temporaryWalk.js'
import { FULL_WALK } from '../walkText.js'

async function begun(begins: string, dir = '.'): Promise<Walk> {
  const text = FULL_WALK.replace('tolerance: 0.05 m }', `tolerance: 0.05 m, begins: ${begins} }`)
  return parseWalk(text, { file: 'walk.yaml', dir, sha256: '' })
}

describe('distance.begins', () => {
  it.each([
    ['0.5 m', 0.5],
    ['-0.5 m', -0.5],
    ['"\u22121 ft"', -FOOT_M],
    ['0 m', 0],
  ])('%s is added to marks, stills and observations, not to what was promised', async (written, beginsM) => {
    const { distance, marksM, stills, observations, promises } = await begun(written)
    expectNear(distance.beginsM, beginsM, { abs: 1e-12 })
    expect(marksM).toEqual([4, 6, 9, 12, 16, 20].map((taped) => beginsM + taped))
    expect(stills.map(({ distanceM }) => distanceM)).toEqual([beginsM + 16])
    expect(observations.map(({ distanceM }) => distanceM)).toEqual([beginsM + 18])
    expect(promises.map(({ distanceM }) => distanceM)).toEqual([16, 5])
  })

  it('is added to what names of stills tell; what disagrees is told as it is written', async () => {
    const files = ['stills/day/9m.jpg', 'stills/day/15m.jpg', 'stills/day/0.9m.jpg']
    const dir = await temporaryWalk(Object.fromEntries(files.map((file) => [file, 'x'])))
    const walk = await begun('0.5 m', dir)
    const named = { file: files[1]!, distanceM: 16.5, light: 'day', reference: null }
    const { assigned, unassigned } = await findStills({ ...walk, stills: [named] })
    expect(assigned.map(({ file, distanceM }) => [file, distanceM])).toEqual([
      ['stills/day/15m.jpg', 16.5],
      ['stills/day/9m.jpg', 9.5],
    ])
    expect(assigned[0]!.problems.map(({ message }) => message).join()).toMatch(/15 m.*16 m/)
    expect(unassigned.map(({ file, code }) => [file, code])).toEqual([
      ['stills/day/0.9m.jpg', 'begins-too-far'],
    ])
  })

  it.each(['2 m', '-2 m', '7 ft'])('%s is refused beside a mark at 4 m, with what to do', async (written) => {
    await expect(begun(written)).rejects.toThrow(
      'walk.yaml: distance.begins (line 26): the tape measure starts half of the nearest distance or more from the lens; check sign and unit of distance.begins, or measure from the lens and delete it',
    )
  })

  it.each(['1.99 m', '-1.99 m'])('%s is taken there', async (written) => {
    expect((await begun(written)).marksM[0]).toBeGreaterThan(2)
  })

  it.each(['near', '0.5', '"-"', '--1 m'])('%s is not a length', async (written) => {
    await expect(begun(written)).rejects.toThrow('distance.begins')
  })
})

it('the page names a mark as the tape reads, which is what it writes, and counts it from the lens', async () => {
  const walk = await begun('0.5 m')
  expect(walk.marksM.map((distanceM) => markView(distanceM, walk))[0]).toEqual({
    distanceM: 4.5,
    lineOfSightM: 4.5,
    text: '4 m',
  })
})
