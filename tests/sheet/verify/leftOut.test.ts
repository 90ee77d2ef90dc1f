import { expect, test } from 'vitest'
import { sha256Of } from '../../../src/files/fileSha256.js'
import { plainYaml } from '../../../src/files/plainYaml.js'
import { verifySheet } from '../../../src/sheet/verify/verifySheet.js'
import { inventedResults } from '../inventedResults.js'
import { sheetOf } from '../sheetOf.js'

const results = inventedResults()

/** What verifying says of a sheet's attachments: file, whether it matches, and what of it. */
async function attachmentsOf(sheet: Uint8Array): Promise<string[]> {
  const { checks } = await verifySheet(sheet, 'sheet.pdf')
  return checks
    .filter(({ what }) => /(walk\.yaml|picks\.json|results\.json)$/.test(what))
    .map(({ what, matches, message }) => `${what.replace('sheet.pdf: ', '')} ${matches}: ${message}`)
}

const LEFT_OUT = 'was left out when the sheet was written'

test('what was left out of a sheet on purpose is said to be, and is no mismatch', async () => {
  expect(await attachmentsOf(await sheetOf(results, { attach: 'results', crops: [] }))).toEqual(
    expect.arrayContaining([`walk.yaml null: ${LEFT_OUT}`, `picks.json null: ${LEFT_OUT}`]),
  )
  expect(await attachmentsOf(await sheetOf(results, { attach: 'none', crops: [] }))).toEqual([
    `results.json null: ${LEFT_OUT}, so what is printed cannot be compared with it`,
  ])
})

test('what is not there although all was to be attached does not match', async () => {
  const attachments = {
    results: new TextEncoder().encode(JSON.stringify(results)),
    walk: null,
    picks: null,
  }
  const said = await attachmentsOf(await sheetOf(results, { attachments, crops: [] }))
  expect(said).toContain('walk.yaml false: was used for measuring and is not attached')
})

test('a walk without its comments is the one that was measured with', async () => {
  const commented = 'site: A # the gate code is 3905\ncamera: { name: B }\n'
  const plain = plainYaml(commented)
  expect(plain).not.toContain('3905')
  const inputs = {
    ...results.inputs,
    walk: sha256Of(Buffer.from(commented)),
    walkPlain: sha256Of(Buffer.from(plain)),
  }
  const measured = { ...results, inputs }
  const attachments = {
    results: new TextEncoder().encode(JSON.stringify(measured)),
    walk: Buffer.from(plain),
    picks: null,
  }
  const said = await attachmentsOf(await sheetOf(measured, { attachments, crops: [] }))
  expect(said).toContain('walk.yaml true: attached, and the same as used for measuring')
})

test('a sheet says how its pictures are masked, and what lies inside it', async () => {
  const text = async (sheet: Uint8Array): Promise<string> => {
    const { readSheetPdf } = await import('../../../src/sheet/verify/readSheetPdf.js')
    return (await readSheetPdf(sheet, 'sheet.pdf')).text.replace(/\s+/g, ' ')
  }
  const plain = await text(await sheetOf(results, { crops: [] }))
  expect(plain).not.toContain('masked')
  expect(plain).toContain('The walk as it was written, without its comments')
  const masked = await text(await sheetOf(results, { crops: [], maskPeople: true, attach: 'none' }))
  expect(masked.match(/everything but plates, boards and charts is blurred/g)).toHaveLength(2)
  expect(masked.match(/not attached/g)).toHaveLength(4)
})
