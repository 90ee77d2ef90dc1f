import { describe, expect, it } from 'vitest'
import { combineRepeats } from '../../src/grade/marks/combineRepeats.js'
import { fitOfMarks } from '../grade/fitOfMarks.js'
import type { JudgedStill } from '../../src/grade/judgement.js'
import { lensResult } from '../../src/grade/lensResult.js'
import type { Ends } from '../../src/math/point.js'
import { measureDensity } from '../../src/measure/density/density.js'
import { expectNear } from '../nearly.js'
import { referenceResults } from '../support/fixtures.js'

// The motorcycle pair of Debian's python3-skimage 0.19.3 (Middlebury 2014 stereo set, quarter size), with measured disparity:
// f 994.978 px, baseline 193.001 mm, offset 31.086 px. A facing length there has (d + 31.086)/0.193001 px/m, at Z = f B/(d + 31.086).
// Its level stretches are picked out by fixtures/reference/motorcycleDepth.py; the photograph itself is not needed.
const FOCAL_PX = 994.978
const BASELINE_M = 0.193001

interface Scene {
  readonly width: number
  readonly height: number
  readonly stretches: readonly { readonly ends: Ends; readonly lengthM: number; readonly depthM: number }[]
  readonly spots: Readonly<Record<string, number>>
}

/** A stretch of the scene as a still of a length held at its depth. */
function stillOfStretch(scene: Scene, index: number): JudgedStill {
  const { ends, lengthM, depthM } = scene.stretches[index]!
  const reference = { kind: 'length', name: 'stretch', lengthM, toleranceM: 0 } as const
  const measured = measureDensity(
    reference,
    { kind: 'ends', ends, method: 'found', sigmaPx: 0.1 },
    { stillWidth: scene.width, stillHeight: scene.height, distanceM: depthM },
  )
  if (!measured.ok) throw new Error(measured.message)
  return {
    file: `${index}`,
    light: 'day',
    reference: 'stretch',
    distanceM: depthM,
    lineOfSightM: depthM,
    grade: null,
    gradeByPixels: null,
    usable: null,
    measurement: {
      ...measured.value,
      width: scene.width,
      height: scene.height,
      method: 'picks',
      sharpness: null,
      tone: null,
      effectiveDensity: null,
    },
  }
}

describe('the motorcycle scene of python3-skimage', () => {
  const scene = referenceResults<Scene>('motorcycleDepth')
  const stills = scene.stretches.map((_, index) => stillOfStretch(scene, index))

  it('holds the depths it is published with', () => {
    for (const [spot, depthM, densityPxPerM] of [
      ['250,370', 2.398, 414.95],
      ['100,600', 3.592, 277.02],
    ] as const) {
      const shifted = scene.spots[spot]!
      expectNear((FOCAL_PX * BASELINE_M) / shifted, depthM, { abs: 6e-4 }, 'printed to a millimetre')
      expectNear(shifted / BASELINE_M, densityPxPerM, { abs: 6e-3 }, 'printed to two digits')
    }
  })

  it('gives back 1/density against distance on every level stretch', () => {
    expect(stills.length).toBeGreaterThan(20)
    for (const { distanceM, measurement } of stills) {
      const { low, high, onTarget } = measurement.density
      expectNear(onTarget * distanceM, FOCAL_PX, { rel: 0.005 }, 'a stretch is level to a fifth of a percent')
      expect(low).toBeLessThanOrEqual(FOCAL_PX / distanceM)
      expect(high).toBeGreaterThanOrEqual(FOCAL_PX / distanceM)
    }
  })

  it('gives back its focal length as the constant of the range fit', () => {
    const marks = combineRepeats(stills)
    const fit = fitOfMarks(marks, { distanceToleranceM: 0.005, lensKnown: true })
    if (fit === null) throw new Error('no mark')
    const lens = lensResult({ light: 'day', reference: 'stretch', marks, fit }, null)!
    const { value, low, high } = lens.pixelsPerRadian
    console.log(`F ${value.toFixed(1)} (${low.toFixed(1)} ... ${high.toFixed(1)}) px, published ${FOCAL_PX}`)
    expect(lens.suspect).toBe(null)
    expect(low).toBeLessThanOrEqual(FOCAL_PX)
    expect(high).toBeGreaterThanOrEqual(FOCAL_PX)
    expect(high / low, 'and stays an answer').toBeLessThan(1.03)
  })
})
