import { expect, it } from 'vitest'
import { groundUnderSight, groundView, sightOverGround } from '../../src/lens/groundView.js'
import { pointToRay } from '../../src/lens/projection.js'
import { expectNear } from '../nearly.js'

const deg = (degrees: number): number => (degrees * Math.PI) / 180

it('begins and ends where the lowest and the highest ray meet the ground', () => {
  const view = groundView({ mountHeightM: 3, tiltRad: deg(45), halfVerticalRad: deg(15) })!
  expectNear(view.beginsM, 3 / Math.sqrt(3), { rel: 1e-12 }, '60 degrees down')
  expectNear(view.endsM!, 3 * Math.sqrt(3), { rel: 1e-12 }, '30 degrees down')
})

it('agrees with the rays of the bottom and the top row of a picture, traced to the ground', () => {
  const lens = { p: -0.5, pixelsPerRadian: 900, centreX: 960, centreY: 540 }
  const tiltRad = deg(38)
  const traced = [1080, 0].map((row) => {
    const [, down, forward] = pointToRay(lens, [960, row])!
    const falls = down * Math.cos(tiltRad) + forward * Math.sin(tiltRad)
    const runs = forward * Math.cos(tiltRad) - down * Math.sin(tiltRad)
    return (2.6 * runs) / falls
  })
  // Half of what an equisolid lens sees over 540 px: r = 2 F sin(t/2).
  const halfVerticalRad = 2 * Math.asin(540 / 900 / 2)
  const view = groundView({ mountHeightM: 2.6, tiltRad, halfVerticalRad })!
  expectNear(view.beginsM, traced[0]!, { rel: 1e-9 })
  expectNear(view.endsM!, traced[1]!, { rel: 1e-9 })
})

it('has no end at the horizon, no beginning below the camera, and is none for what lies above it or out of view', () => {
  const level = groundView({ mountHeightM: 3, tiltRad: 0, halfVerticalRad: deg(20) })!
  expect(level.endsM).toBeNull()
  expect(groundView({ mountHeightM: 3, tiltRad: deg(80), halfVerticalRad: deg(20) })).toMatchObject({
    beginsM: 0,
  })
  expect(groundView({ mountHeightM: 3, tiltRad: deg(-30), halfVerticalRad: deg(20) })).toBeNull()
  expect(groundView({ mountHeightM: 3, tiltRad: deg(10), halfVerticalRad: deg(20) }, 3.5)).toBeNull()
  const over = groundView({ mountHeightM: 3, tiltRad: deg(10), halfVerticalRad: deg(20) }, 1)!
  expectNear(over.beginsM, 2 / Math.tan(deg(30)), { rel: 1e-12 }, 'a plane one metre up')
})

it('turns line of sight and ground into one another, whichever stands higher', () => {
  expectNear(sightOverGround(4, 3), 5, { rel: 1e-12 })
  expectNear(sightOverGround(4, -3), 5, { rel: 1e-12 })
  expectNear(groundUnderSight(5, 3)!, 4, { rel: 1e-12 })
  expect(groundUnderSight(2, 3)).toBeNull()
})
