import type * as z from 'zod'
import { faultLine, ProofwalkErrors } from '../../../errors.js'
import { problem } from '../../../sentences.js'
import type { BeginRefusal } from '../../beginApi.js'
import { jsonReply, type Reply } from '../reply/reply.js'
import type { requestSchemas } from '../reply/requestSchemas.js'
import { beginWalk } from '../walk/beginWalk.js'
import type { UnbegunPage } from './pageContext.js'

/**
 * POST the answers: the walk is made and opened. Faulty answers are told field by field, and nothing is made.
 * @throws what is a fault of our own
 */
export async function beginRoute(
  { place, open }: UnbegunPage,
  answers: z.output<typeof requestSchemas.begin>,
): Promise<Reply> {
  try {
    await open(await beginWalk(place, answers))
    return jsonReply({})
  } catch (error) {
    if (!(error instanceof ProofwalkErrors)) throw error
    const refusal: BeginRefusal = {
      code: error.code,
      message: error.faults.map(faultLine).join('\n'),
      faults: error.faults.map(({ code, message, place: { field = '', mend } }) => ({
        field: field.replace(/^--/, ''),
        message: problem({ code, message, ...(mend === undefined ? {} : { mend }) }).message,
      })),
    }
    return jsonReply(refusal, 422)
  }
}
