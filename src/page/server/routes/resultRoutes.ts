import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type * as z from 'zod'
import { ProofwalkError } from '../../../errors.js'
import { expectNoOtherFile } from '../../../files/expectNoOtherFile.js'
import { readInnerFile } from '../../../files/readInnerFile.js'
import { changeWalkSheet } from '../../../walk/change/changeWalkSheet.js'
import { resultsText } from '../../../walk/schemas/resultsText.js'
import { writeWhole } from '../../../files/writeWhole.js'
import type { PageContext } from './pageContext.js'
import { jsonReply, refusal, type Reply } from '../reply/reply.js'
import type { requestSchemas } from '../reply/requestSchemas.js'
import { pageSays } from '../../sentences.js'

const SHEET = 'sheet.pdf'

/** GET the walk judged by what is measured so far. */
export async function resultsRoute(context: PageContext): Promise<Reply> {
  return jsonReply(await context.walk.results())
}

/** POST: measures the rest in the background and writes results.json. */
export function measureAllRoute(context: PageContext): Reply {
  measureAll(context).catch((error: unknown) => {
    const code = error instanceof ProofwalkError ? error.code : 'fault'
    const message = error instanceof Error ? error.message : String(error)
    context.events.tell({ kind: 'fault', code, message })
  })
  return jsonReply({}, 202)
}

/** Measures what is not measured yet and writes results.json whole. Throws what reading and writing throw. */
async function measureAll({ walk }: PageContext): Promise<void> {
  await walk.measuring.finish()
  const of = walk.measuring.identity()
  const results = await walk.measuring.results()
  await writeWhole(join(walk.dir, 'results.json'), resultsText(results))
  if (walk.measuring.identity() === of) walk.resultsWritten()
}

/** POST: keeps how the sheet is set, measures the rest, and writes results.json and the acceptance sheet. */
export async function writeSheetRoute(
  context: PageContext,
  { paper, maskPlates, maskPeople = false, overMasked = false }: z.output<typeof requestSchemas.sheet>,
  by: string | null,
): Promise<Reply> {
  const { walk } = context
  const file = join(walk.dir, SHEET)
  await expectNoOtherFile(file)
  const setting = { paper, maskPlates, maskPeople }
  const { masksAsBefore } = await import('../../../sheet/verify/maskingBefore.js')
  const masks = overMasked ? null : await masksAsBefore(file, setting)
  if (masks?.ok === false) return refusal(422, masks)
  await walk.change(async () => {
    await changeWalkSheet(walk.dir, setting)
    return { value: null, by, stills: null }
  })
  await measureAll(context)
  const { walkSheet } = await import('../../../sheet/acceptance/walkSheet.js')
  const results = await walk.measuring.results()
  await writeWhole(file, await walkSheet(walk.reading().walk, results, setting))
  return jsonReply({ file: SHEET })
}

/** GET the sheet last written. */
export async function readSheetRoute({ walk }: PageContext): Promise<Reply> {
  const file = join(walk.dir, SHEET)
  // checks that it is an ordinary file of the walk; sheets may be longer than its text files
  const there = await readInnerFile(walk.dir, SHEET).catch((error: unknown) =>
    error instanceof ProofwalkError && error.code === 'too-long' ? readFile(file) : null,
  )
  if (there === null) return refusal(404, pageSays['no-sheet']())
  return { kind: 'bytes', type: 'application/pdf', bytes: there }
}
