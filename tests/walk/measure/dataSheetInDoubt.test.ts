import { expect, it } from 'vitest'
import { makeSmallWalk, put, smallWalkYaml } from '../../journeys/smallWalk.js'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { temporaryWalk } from '../temporaryWalk.js'

it('a data sheet that contradicts itself promises no lens; one that does not, does', async () => {
  const dir = await temporaryWalk({})
  await makeSmallWalk(dir)
  const promised = async (view: string) => {
    await put(dir, 'walk.yaml', smallWalkYaml().replace('camera:\n', `camera:\n  fieldOfView: ${view}\n`))
    return (await measureWalk(await readWalk(dir), { workers: 1, scene: false })).lens[0]!.promised!
  }
  const clear = await promised('{ horizontal: 56, vertical: 33 }')
  expect(clear.asRead).toBeGreaterThan(1000)
  expect(clear.rectilinear).toBeGreaterThan(1000)
  expect(await promised('{ horizontal: 33, vertical: 56 }')).toEqual({ asRead: null, rectilinear: null })
})
