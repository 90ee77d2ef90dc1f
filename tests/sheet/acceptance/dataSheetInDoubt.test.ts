import { expect, it } from 'vitest'
import { inventedResults } from '../inventedResults.js'
import { hasPoppler, pageWords } from '../poppler.js'
import { sheetOf } from '../sheetOf.js'

const DOUBT = /The data sheet contradicts itself about the lens. Check what was copied/g

/** The words of a sheet whose data sheet says these angles. */
async function words(horizontal: number, vertical: number): Promise<string> {
  const results = inventedResults({})
  const { walk } = results
  const fieldOfView = { horizontal, vertical }
  const pdf = await sheetOf({ ...results, walk: { ...walk, camera: { ...walk.camera, fieldOfView } } })
  return pageWords(pdf)
    .flatMap((page) => page.words.map(({ text }) => text))
    .join(' ')
}

it.skipIf(!hasPoppler())(
  'says at lens and ground that the data sheet is in doubt, and tells no view by it (skipped only where poppler is not installed)',
  async () => {
    const clear = await words(100, 52)
    expect(clear).toContain('the ground is in view from')
    expect(clear).not.toMatch(DOUBT)
    const exchanged = await words(52, 100)
    expect(exchanged).not.toContain('the ground is in view from')
    expect(exchanged.match(DOUBT)).toHaveLength(2)
  },
)
