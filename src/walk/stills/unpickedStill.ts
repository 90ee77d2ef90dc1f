import type { UnpickedStill, FailedStill } from './stillTask.js'
import { join } from 'node:path'
import { stillsSays } from './sentences.js'
import { problem } from '../../sentences.js'
import { openStill } from '../../still/openStill.js'

/**
 * Why a still without corners is not measured: the fault of its file where it has one, else `no-pick` with the entry that picks.json wants for
 * it, hash included, so that only the points are left to fill in.
 */
export async function unpickedStill(dir: string, unpicked: UnpickedStill): Promise<FailedStill> {
  const { file, light, distanceM, reference } = unpicked
  const place = { file, light, distanceM, reference: reference.name }
  const still = await openStill(join(dir, file))
  if (!still.ok) return { ...place, code: still.code, message: still.message, sha256: null }
  const points =
    reference.kind === 'length' ? '"ends": [[x,y],[x,y]]' : '"corners": [[x,y],[x,y],[x,y],[x,y]]'
  const entry = `${JSON.stringify(file)}: { "sha256": "${still.value.sha256}", "reference": ${JSON.stringify(reference.name)}, ${points} }`
  return {
    ...place,
    ...problem(stillsSays['no-pick'](entry)),
    sha256: still.value.sha256,
  }
}
