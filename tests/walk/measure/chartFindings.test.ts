import { expect, test } from 'vitest'
import { chartFindings } from '../../../src/walk/measure/chartFindings.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'

const told = async (units: string, chart: string) => {
  const text = `site: Reed pond
date: 2026-05-02
camera: { name: Pond camera, image: { width: 1920, height: 1080 } }
units: ${units}
references: { chart: { ${chart} } }
marks: [6 m]
lights: [day]
`
  const walk = await parseWalk(text, { file: 'pond/walk.yaml', dir: 'pond', sha256: 'a'.repeat(64) })
  return chartFindings(walk, [{ reference: 'chart' }])
}

test('a chart printed at 94 % is told with both widths, in millimetres', async () => {
  expect(await told('metric', 'chart: A2, printedWidth: 458 mm')).toEqual([
    {
      code: 'chart-scaled',
      message:
        'chart: the A2 chart was printed at 94.0 %, 458.0 mm instead of 487.2 mm. The width measured on the print is used',
    },
  ])
})

test('a walk in feet tells the inches of a tape first', async () => {
  expect(await told('imperial', 'chart: Letter')).toEqual([
    {
      code: 'chart-untaped',
      message:
        'chart: nobody measured the Letter chart after printing, so 9.11 in (231.5 mm) is assumed for its frame; measure it and write printedWidth',
    },
  ])
})

test('a chart printed to scale within half a percent is not worth a word', async () => {
  expect(await told('metric', 'chart: A2, printedWidth: 486 mm')).toEqual([])
})
