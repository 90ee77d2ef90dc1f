import { describe, expect, it } from 'vitest'
import { regionNeeded } from '../../src/measure/regionNeeded.js'

describe('the region needed around a reference', () => {
  it('is its outline and 32 px about it', () => {
    const corners = [
      [100.2, 200.7],
      [220.9, 210],
      [218, 290.1],
      [99, 280],
    ] as const
    expect(regionNeeded(corners, 1920, 1080)).toEqual({ left: 67, top: 168, width: 186, height: 155 })
  })

  it('stays within the still', () => {
    const corners = [
      [5, 5],
      [1910, 5],
      [1910, 1070],
      [5, 1070],
    ] as const
    expect(regionNeeded(corners, 1920, 1080)).toEqual({ left: 0, top: 0, width: 1920, height: 1080 })
  })
})
