import { expect, test } from 'vitest'
import type { WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import { inventedResults } from '../inventedResults.js'
import { hasPoppler, poppler } from '../poppler.js'
import { sheetOf } from '../sheetOf.js'

/** An invented walk whose stills carry a curve where `has` says so, and whose board is the printed chart. */
function charted(has: (distance: number | null) => boolean): WalkResults {
  const results = inventedResults({
    lights: ['day'],
    references: { chart: [0.487, 0.319] },
    marksM: [6, 12, 16],
  })
  const curve = Array.from({ length: 36 }, (_, k) => Math.exp(-((k * 0.02) ** 2) / 0.1))
  return {
    ...results,
    walk: {
      ...results.walk,
      references: {
        chart: {
          chart: 'A2',
          printedWidth: 0.487,
          width: 0.487,
          height: 0.319,
          widthTolerance: 0.0005,
          heightTolerance: 0.0005,
          carriedAt: null,
        },
      },
    },
    stills: results.stills.map((still) => ({
      ...still,
      method: 'chart' as const,
      sharpness: {
        method: 'edge' as const,
        horizontal: { mtf50: 0.26, mtf10: 0.48, overshoot: 0 },
        vertical: { mtf50: 0.27, mtf10: 0.5, overshoot: 0 },
        factor: 1,
        factorU: 0.02,
        ...(has(still.distance) ? { curve: { step: 0.02, horizontal: curve, vertical: curve } } : {}),
      },
    })),
  }
}

const textOf = async (results: WalkResults): Promise<string> =>
  poppler('pdftotext', ['-layout', 'FILE', '-'], await sheetOf(results))

test.skipIf(!hasPoppler())('the sheet overlays one curve for each mark with a chart', async () => {
  const text = await textOf(charted((distance) => distance !== 12))
  const plot = text.slice(text.indexOf('Sharpness on the chart'), text.indexOf('How this was measured'))
  expect(plot).toContain('day, chart, 6 m')
  expect(plot).toContain('day, chart, 16 m')
  expect(plot).not.toContain('day, chart, 12 m')
  expect(plot).toContain('every pixel counts from here')
  expect(text.replace(/\s+/g, ' ')).toContain(
    'the printed chart on A2, frame 487 × 319 mm (frame as measured, within 0.5 mm)',
  )
})

test.skipIf(!hasPoppler())('without a curve there is no plot of curves', async () => {
  expect(await textOf(charted(() => false))).not.toContain('Sharpness on the chart')
})
