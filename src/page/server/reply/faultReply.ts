import { faultLine, ProofwalkError, ProofwalkErrors } from '../../../errors.js'
import { refusal, type Reply } from './reply.js'

/** What a user can mend is told in the words the command line has for it; the rest is a fault of ours. */
export function faultReply(error: unknown): Reply {
  if (error instanceof ProofwalkErrors)
    return refusal(422, { code: error.code, message: error.faults.map(faultLine).join('\n') })
  if (error instanceof ProofwalkError) return refusal(422, { code: error.code, message: faultLine(error) })
  return refusal(500, { code: 'fault', message: error instanceof Error ? error.message : String(error) })
}
