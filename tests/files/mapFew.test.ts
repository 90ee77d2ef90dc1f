import { expect, test } from 'vitest'
import { mapFew } from '../../src/files/mapFew.js'

test('results come in the order of the items whatever the order they ended in, and no more run at a time than asked', async () => {
  let [running, most] = [0, 0]
  const results = await mapFew([30, 5, 20, 1, 10], 2, async (ms) => {
    most = Math.max(most, ++running)
    await new Promise((resolve) => setTimeout(resolve, ms))
    running--
    return `${ms} ms`
  })
  expect(results).toEqual(['30 ms', '5 ms', '20 ms', '1 ms', '10 ms'])
  expect(most).toBe(2)
  expect(await mapFew([], 2, () => Promise.resolve(1))).toEqual([])
})

test('where one fails the rest is not begun', async () => {
  const begun: number[] = []
  const work = async (item: number): Promise<void> => {
    begun.push(item)
    await Promise.resolve()
    if (item === 1) throw new Error('torn')
  }
  await expect(mapFew([0, 1, 2, 3, 4, 5], 1, work)).rejects.toThrow('torn')
  expect(begun).toEqual([0, 1])
})
