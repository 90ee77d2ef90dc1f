import { isDeepStrictEqual } from 'node:util'
import { changeFile } from '../../files/changeFile.js'
import type { SheetSetting } from '../read/walk.js'
import { soundWalk } from './changeWalkStills.js'
import { editTopKey } from './editTopKey.js'

/**
 * Writes into walk.yaml how its sheet is set; everything else of the file stays as it is written, comments and order included.
 * @throws `ProofwalkErrors` where the file is at fault
 */
export async function changeWalkSheet(dir: string, setting: SheetSetting): Promise<void> {
  await changeFile(dir, 'walk.yaml', async (text) => {
    if (isDeepStrictEqual((await soundWalk(dir, text ?? '')).sheet, setting)) return null
    const sheet = { paper: setting.paper, mask: maskWord(setting) }
    return editTopKey(text ?? '', 'sheet', (document) =>
      document.set('sheet', document.createNode(sheet, { flow: true })),
    )
  })
}

function maskWord({ maskPlates, maskPeople }: SheetSetting): string {
  return maskPlates ? (maskPeople ? 'both' : 'plates') : maskPeople ? 'people' : 'none'
}
