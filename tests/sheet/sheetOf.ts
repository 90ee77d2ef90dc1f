import { writeSheet } from '../../src/sheet/acceptance/writeSheet.js'
import type { SheetInput } from '../../src/sheet/input/sheetInput.js'
import { resultsSchema, type WalkResults } from '../../src/walk/schemas/resultsSchema.js'
import { inventedCrops } from './inventedStills.js'

/** The input of an invented walk's sheet, its results held against the schema. */
export async function sheetInputOf(
  results: WalkResults,
  more: Partial<SheetInput> = {},
): Promise<SheetInput> {
  resultsSchema.parse(results)
  const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)
  return {
    results,
    crops: more.crops ?? (await inventedCrops(results)),
    attachments: {
      results: bytes(JSON.stringify(results, null, 2)),
      walk: bytes('site: North slipway\n'),
      picks: bytes('{"format":"proofwalk-picks/1","stills":{}}\n'),
    },
    paper: 'A4',
    maskPlates: false,
    ...more,
  }
}

/** The sheet of an invented walk. */
export async function sheetOf(results: WalkResults, more: Partial<SheetInput> = {}): Promise<Uint8Array> {
  return writeSheet(await sheetInputOf(results, more))
}
