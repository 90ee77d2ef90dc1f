import { isMap } from 'yaml'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { changeFile } from '../../files/changeFile.js'
import { readSays } from '../read/sentences.js'
import { soundWalk } from './changeWalkStills.js'
import { editTopKey } from './editTopKey.js'

/**
 * Writes into walk.yaml how the edge of one of its plates is made, in the words of its key `border`; everything else stays as it is written. Fails with `conflict`
 * where it says so already, or has no such reference.
 * @throws `ProofwalkErrors` where the file is at fault, or would be after the change
 */
export async function changeBorder(
  dir: string,
  reference: string,
  border: string,
): Promise<Outcome<'changed', 'conflict'>> {
  let outcome: Outcome<'changed', 'conflict'> = success('changed')
  await changeFile(dir, 'walk.yaml', async (text) => {
    await soundWalk(dir, text ?? '')
    const changed = withBorder(text ?? '', reference, border)
    outcome = changed === null ? failure(readSays['border-told'](reference)) : success('changed')
    if (changed !== null) await soundWalk(dir, changed)
    return changed
  })
  return outcome
}

/** The text of a walk with the border of a reference that tells none; null where there is none such. */
export function withBorder(text: string, reference: string, border: string): string | null {
  let isChanged = false
  const changed = editTopKey(text, 'references', (document) => {
    const item: unknown = document.getIn(['references', reference])
    if (!isMap(item) || item.has('border')) return
    item.set('border', border)
    isChanged = true
  })
  return isChanged ? changed : null
}
