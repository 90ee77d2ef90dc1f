import { expect, test } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { expectNear } from '../nearly.js'

test('the same seed gives the same stream and another seed another', () => {
  const draw = (seed: number) => Array.from({ length: 5 }, seededRandom(seed).uniform)
  expect(draw(7)).toEqual(draw(7))
  expect(draw(7)).not.toEqual(draw(8))
})

test('normals have mean 0, variance 1 and the normal share beyond 1.96', () => {
  const random = seededRandom(11)
  const n = 200_000
  let sum = 0
  let squares = 0
  let beyond = 0
  for (let i = 0; i < n; i++) {
    const x = random.normal()
    sum += x
    squares += x * x
    if (Math.abs(x) > 1.959964) beyond++
  }
  expectNear(sum / n, 0, { abs: 4 / Math.sqrt(n) }, '4 standard errors')
  expectNear(squares / n, 1, { abs: 4 * Math.sqrt(2 / n) }, '4 standard errors')
  expectNear(beyond / n, 0.05, { abs: 4 * Math.sqrt((0.05 * 0.95) / n) }, '4 standard errors')
})
