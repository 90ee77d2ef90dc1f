import { expect, it } from 'vitest'
import { inventedResults } from '../inventedResults.js'
import { hasPoppler, pageWords } from '../poppler.js'
import { sheetOf } from '../sheetOf.js'

/** The words of a sheet whose tape begins so far before the lens, metres. */
async function words(begins: number): Promise<string> {
  const results = inventedResults({})
  const { walk } = results
  const pdf = await sheetOf({ ...results, walk: { ...walk, distance: { ...walk.distance, begins } } })
  return pageWords(pdf)
    .flatMap((page) => page.words.map(({ text }) => text))
    .join(' ')
}

it.skipIf(!hasPoppler())(
  'says how far the tape begins off the lens (skipped only where poppler is not installed)',
  async () => {
    expect(await words(0)).toContain('Distances: measured from the camera, within 0.05 m')
    expect(await words(-0.5)).toContain(
      'Distances: measured from the camera, -0.5 m added to each distance, within 0.05 m',
    )
  },
)
