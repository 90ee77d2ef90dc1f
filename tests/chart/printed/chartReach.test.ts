import { expect, it } from 'vitest'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import {
  chartReachM,
  paperForDistance,
  LEAST_PX_PER_MODULE,
  leastPxPerModule,
} from '../../../src/chart/printed/chartReach.js'
import { expectNear } from '../../nearly.js'

it('reaches as far as its modules have enough pixels', () => {
  // An A2 has modules of 42 mm (its height over ten): at 2.5 px per module 59.5 px/m, with F 1190 at 20 m.
  expectNear(chartReachM(chartPaper('A2')!, 1190.476, 2.5), 20, { rel: 1e-5 })
})

it('is the smallest paper that is still found, in papers people can have', () => {
  expect(paperForDistance(19.9, 1190.476, 2.5, 'metric')?.id).toBe('A2')
  expect(paperForDistance(20.1, 1190.476, 2.5, 'metric')?.id).toBe('A1')
  expect(paperForDistance(3, 1190.476, 2.5, 'imperial')?.id).toBe('Letter')
  expect(paperForDistance(200, 1190.476, 2.5, 'metric')).toBeNull()
})

it('needs the pixels of the dark in every light but the day', () => {
  expect(['day', 'day-walking', 'infrared', 'dark', 'lamp', 'daylight lamp'].map(leastPxPerModule)).toEqual([
    LEAST_PX_PER_MODULE.day,
    LEAST_PX_PER_MODULE.day,
    LEAST_PX_PER_MODULE.night,
    LEAST_PX_PER_MODULE.night,
    LEAST_PX_PER_MODULE.night,
    LEAST_PX_PER_MODULE.night,
  ])
})
