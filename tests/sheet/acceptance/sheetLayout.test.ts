import { describe, expect, it } from 'vitest'
import type { SheetInput } from '../../../src/sheet/input/sheetInput.js'
import { inventedResults, type InventedWalk } from '../inventedResults.js'
import { hasPoppler, pageWords } from '../poppler.js'
import { sheetOf } from '../sheetOf.js'

const LONG = 'The long eastern breakwater of the old fishing harbour, gate seven, upper terrace'
const UNBROKEN = 'Donaudampfschifffahrtsgesellschaftskapitaensanlegerkamerahalterung'.repeat(3)

const GREEK = 'Ευθυγράμμιση της κάμερας στην παλιά ανατολική προκυμαία '.repeat(4).slice(0, 200)
const POLISH = 'Żółta gęś na pomoście przystani rybackiej wśród źdźbeł trawy '.repeat(4).slice(0, 200)
const TASK = 'know whoever comes along the quay wall at night, whatever the weather and however fast'

const walks: Record<string, [InventedWalk, Partial<SheetInput>, { readonly mostPages: number }]> = {
  'one still and no promise on Letter': [
    {
      promises: false,
      simulated: false,
      lights: ['day'],
      references: { board: [0.6, 0.4] },
      marksM: [12.5],
    },
    { paper: 'Letter' },
    { mostPages: 5 },
  ],
  'sixty stills in one light': [
    {
      lights: ['day'],
      references: { board: [0.6, 0.4] },
      marksM: Array.from({ length: 20 }, (_, n) => 3 + 1.5 * n),
      stillsPerMark: 3,
    },
    {},
    { mostPages: 8 },
  ],
  'eight lights and long names on Letter': [
    {
      lights: ['day', 'dusk', 'dark', 'infrared', 'lamp', 'infrared-walking', LONG, 'rain'],
      references: { board: [0.6, 0.4] },
      marksM: [4, 8, 12, 16],
      longWords: true,
      site: LONG,
      camera: UNBROKEN,
      client: UNBROKEN,
      walkedBy: LONG,
    },
    { paper: 'Letter' },
    { mostPages: 13 },
  ],
  'nothing measured': [{ failAll: true }, {}, { mostPages: 4 }],
  'fifteen promises': [{ promisesTimes: 3 }, {}, { mostPages: 8 }],
  'a staff, a board and a plate': [
    {
      lights: ['day', 'lamp'],
      references: { staff: [0.05, 2], board: [0.6, 0.4], plate: [0.52, 0.11] },
      marksM: [4, 8],
    },
    {},
    { mostPages: 7 },
  ],
  'three stills': [
    { lights: ['day'], references: { board: [0.6, 0.4] }, marksM: [6, 12, 16] },
    {},
    { mostPages: 6 },
  ],
  'forty promises in the buyer’s long words': [
    { promisesTimes: 8, task: TASK, notShown: true },
    { paper: 'Letter' },
    { mostPages: 13 },
  ],
  'names in Greek and Polish, two lights of one name, masked': [
    {
      lights: ['day', 'DAY', 'infrared'],
      site: GREEK,
      camera: POLISH,
      client: GREEK,
      walkedBy: POLISH,
      task: POLISH,
      imperial: true,
    },
    { maskPlates: true, maskPeople: true },
    { mostPages: 13 },
  ],
  'feet on Letter': [{ imperial: true }, { paper: 'Letter' }, { mostPages: 8 }],
  'feet along the ground': [{ imperial: true, fromGround: true }, {}, { mostPages: 8 }],
}

// Each sheet is made once and looked at by every test.
const made = new Map<string, Promise<ReturnType<typeof pageWords>>>()
function pagesOf(name: string): Promise<ReturnType<typeof pageWords>> {
  const [walk, more] = walks[name]!
  const pages = made.get(name) ?? sheetOf(inventedResults(walk), more).then(pageWords)
  made.set(name, pages)
  return pages
}

describe.skipIf(!hasPoppler())('the sheet’s pages (skipped only where poppler is not installed)', () => {
  it.each(Object.entries(walks))(
    'keep all text within the type area: %s',
    async (name, [walk, , { mostPages }]) => {
      const pages = await pagesOf(name)
      expect(pages.length).toBeLessThanOrEqual(mostPages)
      for (const [index, { width, height, words }] of pages.entries()) {
        const where = `page ${index + 1}`
        // The side margins are 51 pt; glyph boxes may stand a point beyond the ink.
        const isWithin = ({ xMin, xMax, yMin, yMax }: (typeof words)[number]): boolean =>
          xMin >= 50 && xMax <= width - 50 && yMin >= 20 && yMax <= height - 20
        expect(
          words.filter((word) => !isWithin(word)),
          where,
        ).toEqual([])
        const body = words.filter((word) => word.yMin > 50 && word.yMax < height - 45)
        expect(body.length, `${where} is empty`).toBeGreaterThan(0)
        expect(
          body.filter(({ yMax }) => !(yMax <= height - 55)),
          where,
        ).toEqual([])
        const all = words.map(({ text }) => text).join(' ')
        expect(all).toContain(`Page ${index + 1} of ${pages.length}`)
        expect(all.includes('SIMULATED'), where).toBe(walk.simulated ?? true)
      }
    },
  )

  it('print no two words on top of one another', async () => {
    for (const name of Object.keys(walks)) {
      for (const { words } of await pagesOf(name)) {
        const clashes = words.flatMap((a, index) =>
          words
            .slice(index + 1)
            .filter(
              (b) =>
                overlapPt(a.xMin, a.xMax, b.xMin, b.xMax) > 1 &&
                overlapPt(a.yMin, a.yMax, b.yMin, b.yMax) > 0.55 * Math.min(a.yMax - a.yMin, b.yMax - b.yMin),
            )
            .map((b) => `${a.text} | ${b.text}`),
        )
        expect(clashes).toEqual([])
      }
    }
  })
})

function overlapPt(aLow: number, aHigh: number, bLow: number, bHigh: number): number {
  return Math.min(aHigh, bHigh) - Math.max(aLow, bLow)
}
