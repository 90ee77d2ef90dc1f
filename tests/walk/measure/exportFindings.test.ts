import { expect, test } from 'vitest'
import type { Sharpness } from '../../../src/measure/stillMeasurement.js'
import { type ExportedStill, exportFindings } from '../../../src/walk/measure/exportFindings.js'

const still = (file: string, f10: number | null, width = 3840, height = 2160): ExportedStill => {
  const direction = (mtf10: number) => ({ mtf50: mtf10 / 2, mtf10, overshoot: 0 })
  const sharpness: Sharpness | null =
    f10 === null
      ? null
      : {
          method: 'fit',
          horizontal: direction(f10),
          vertical: direction(0.9 * f10),
          factor: 0.5,
          factorU: 0.02,
        }
  return { file, measurement: { width, height, sharpness } }
}
const codes = (stills: readonly ExportedStill[]): string[] => exportFindings(stills).map(({ code }) => code)

test('a walk whose every still holds half the detail of its size is told, with the size it may have been scaled up from', () => {
  const [finding] = exportFindings([still('a', 0.21), still('b', 0.2), still('c', 0.19), still('d', null)])
  expect(finding!.code).toBe('detail-under-size')
  expect(finding!.message).toContain('about what 1920 x 1080 px can hold')
})

test('one still that shows finer detail, or too few that show any, say nothing of the export', () => {
  expect(codes([still('a', 0.21), still('b', 0.2), still('c', 0.35)])).toEqual([])
  expect(codes([still('a', 0.21), still('b', 0.2), still('c', null)])).toEqual([])
})

test('a still of another size than the rest is named', () => {
  const [finding] = exportFindings([still('a', 0.4), still('b', 0.4), still('c', 0.4, 1920, 1080)])
  expect(finding!.code).toBe('export-sizes-differ')
  expect(finding!.message).toContain('2 stills have 3840 x 2160 px, but 1 of 1920 x 1080 px (c)')
})
