import { expect, test } from 'vitest'
import { measureDensity } from '../../../src/measure/density/density.js'
import type { Quad } from '../../../src/math/point.js'
import type { RectangleReference } from '../../../src/measure/reference/reference.js'
import { seenRectangle } from '../seenRectangle.js'

const BOARD: RectangleReference = {
  kind: 'rectangle',
  name: 'board',
  widthM: 0.6,
  heightM: 0.4,
  widthToleranceM: 0.001,
  heightToleranceM: 0.001,
  marking: 'plain',
}

function codes(corners: Quad): string[] {
  const measured = measureDensity(
    BOARD,
    { kind: 'corners', corners, method: 'hand', sigmaPx: 0.5 },
    { stillWidth: 1920, stillHeight: 1080 },
  )
  return measured.ok ? measured.value.problems.map(({ code }) => code) : [measured.code]
}

const FACING: Quad = [
  [800, 500],
  [980, 500],
  [980, 620],
  [800, 620],
]

test('corners begun at the top right are told, the same corners from the top left are not', () => {
  const [topLeft, topRight, bottomRight, bottomLeft] = FACING
  expect(codes([topRight, bottomRight, bottomLeft, topLeft])).toContain('corners-begin-elsewhere')
  expect(codes(FACING)).not.toContain('corners-begin-elsewhere')
})

test('a board carried on its side, its own top left first, is not told', () => {
  const onItsSide: Quad = [
    [920, 500],
    [920, 680],
    [800, 680],
    [800, 500],
  ]
  expect(codes(onItsSide)).not.toContain('corners-begin-elsewhere')
})

test('a board turned by up to 45 degrees is not told', () => {
  for (const yawDeg of [-45, -30, 0, 30, 45]) {
    const scene = { p: 1, pixelsPerRadian: 1500, width: 1920, height: 1080, distanceM: 6, yawDeg }
    const { corners } = seenRectangle({ ...scene, widthM: 0.6, heightM: 0.4 })
    expect(codes(corners), `${yawDeg} degrees`).not.toContain('corners-begin-elsewhere')
  }
})
