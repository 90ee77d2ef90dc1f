import { describe, expect, it } from 'vitest'
import { stillAgainstSheet } from '../../src/lens/stillAgainstSheet.js'
import { expectNear } from '../nearly.js'

const SHEET = { width: 3840, height: 2160 }

describe('a still against its data sheet', () => {
  it('of the same size is not told', () => {
    expect(stillAgainstSheet(SHEET, SHEET)).toBe(null)
  })

  it('of another size is told, with what may have happened to it', () => {
    const cases = [
      [1920, 1080, 'scaled down'],
      [853, 480, 'scaled down'],
      [7680, 4320, 'scaled up'],
      [2160, 3840, 'turned on its side'],
      [2560, 1920, 'cropped'],
      [960, 1080, 'not square'],
    ] as const
    for (const [width, height, words] of cases) {
      const told = stillAgainstSheet(SHEET, { width, height })
      expect(told?.code).toBe('still-against-image')
      expect(told?.message).toContain(words)
      expectNear(told!.relative, width / 3840 - 1, { abs: 1e-12 })
    }
  })
})
