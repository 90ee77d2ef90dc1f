import { mkdir, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type * as z from 'zod'
import { readInnerFile } from '../../../files/readInnerFile.js'
import { putWhole } from '../../../files/writeWhole.js'
import type { Kept } from '../../api.js'
import { jsonReply, type Reply } from '../reply/reply.js'
import type { requestSchemas } from '../reply/requestSchemas.js'
import type { PageContext } from './pageContext.js'

const FOLDER = '.proofwalk'
const FILE = `${FOLDER}/unsaved.json`

/** GET what a page was doing when it ended: none where it cannot be read. */
export async function readUnsavedRoute({ walk }: PageContext): Promise<Reply> {
  const bytes = await readInnerFile(walk.dir, FILE).catch(() => null)
  const kept: Kept = { kept: bytes === null ? null : Buffer.from(bytes).toString('utf8') }
  return jsonReply(kept)
}

/** POST what a page is doing, whole. A folder that cannot be written works without: the page is told that it is not kept. */
export async function keepUnsavedRoute(
  { walk }: PageContext,
  { kept }: z.output<typeof requestSchemas.unsaved>,
): Promise<Reply> {
  try {
    if (kept === null) await rm(join(walk.dir, FILE), { force: true })
    else {
      await mkdir(join(walk.dir, FOLDER), { recursive: true })
      await putWhole(join(walk.dir, FILE), kept)
    }
    return jsonReply({ isKept: true })
  } catch {
    return jsonReply({ isKept: false })
  }
}
