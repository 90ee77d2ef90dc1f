import { lstat, mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { writeFault, writeWhole } from '../../files/writeWhole.js'
import { fault } from '../../sentences.js'
import { parseWalk } from '../read/parseWalk.js'
import { newWalkText, type NewWalk } from './newWalk.js'
import { newSays } from './sentences.js'

/**
 * Writes a new walk into a folder, which is made where it is not there: walk.yaml, and a folder for the stills of each light, whose names it returns.
 * @throws `ProofwalkError` `already-there`, `not-a-folder`, `cannot-write`
 */
export async function makeWalk(dir: string, walk: NewWalk): Promise<readonly string[]> {
  const file = join(dir, 'walk.yaml')
  await expectNoWalk(dir)
  const text = newWalkText(walk)
  const { lights } = await parseWalk(text, { file, dir, sha256: '' })
  for (const light of lights) await madeFolder(join(dir, 'stills', light))
  await writeWhole(file, text)
  return lights
}

/**
 * A walk that is there is never written over.
 * @throws `ProofwalkError` `already-there`, or `not-a-folder` where a file has the folder's name
 */
export async function expectNoWalk(dir: string): Promise<void> {
  const file = join(dir, 'walk.yaml')
  const kind = async (path: string) => {
    try {
      return (await lstat(path.replace(/(?<=.)\/+$/, ''))).isDirectory() ? 'folder' : 'file'
    } catch {
      return null
    }
  }
  if ((await kind(file)) !== null) throw fault(newSays['already-there'](), { file })
  if ((await kind(dir)) === 'file') {
    const isLink = (await lstat(dir)).isSymbolicLink()
    if (!isLink) throw fault(newSays['not-a-folder'](), { file: dir })
  }
}

async function madeFolder(path: string): Promise<void> {
  try {
    await mkdir(path, { recursive: true })
  } catch (error) {
    throw writeFault(error, path)
  }
}

/** Today where the user is, as YYYY-MM-DD. */
export function todayHere(): string {
  const now = new Date()
  const two = (number: number) => String(number).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}
