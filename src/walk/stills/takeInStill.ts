import { randomBytes } from 'node:crypto'
import { link, lstat, mkdir, open, readdir, rename, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { fileSha256 } from '../../files/fileSha256.js'
import { lockFolder } from '../../files/lockFolder.js'
import { liesInside } from '../../files/readInnerFile.js'
import { sweepLeftovers, writeFault } from '../../files/writeWhole.js'
import { fault } from '../../sentences.js'
import { openStill } from '../../still/openStill.js'
import { pictureFormat } from '../../still/pictureFormat.js'
import { LARGEST_FILE_BYTES } from '../../still/stillFault.js'
import { stillSays } from '../../still/sentences.js'
import { cleanName, folderForName } from './droppedName.js'
import { stillsSays } from './sentences.js'
import { pictureByEnding } from './stillName.js'

/** A still that was copied into a walk. */
export interface TakenStill {
  /** Path from the walk's folder, with forward slashes. */
  readonly file: string
  readonly sha256: string
}

type InTurn = (work: () => Promise<Outcome<TakenStill>>) => Promise<Outcome<TakenStill>>

/** So much tells what a file is, bytes. */
const HEAD_BYTES = 512
/** Unseen by who looks for stills, on the same disk. */
const BESIDE = '.proofwalk'

/**
 * Copies a still that comes as bytes into a walk, whole or not at all, never over another file: below the folder of its light where its name tells mark and
 * light, else into `stills/`. Its name is cleaned, and gets a number where it is taken. Fails where it is no still by its ending or its bytes (told as soon as
 * they are seen: the rest is not read), too large, or in the walk already. `inTurn` gives it its name, when nothing else must happen.
 * @throws `ProofwalkError` `cannot-write`, `path-leaves-walk`, `walk-busy`, and what reading `bytes` throws
 */
export async function takeInStill(
  walk: { readonly dir: string; readonly lights: readonly string[] },
  given: string,
  bytes: AsyncIterable<Buffer>,
  inTurn: InTurn = (work) => work(),
): Promise<Outcome<TakenStill>> {
  const name = cleanName(given)
  const picture = pictureByEnding(name)
  if (!picture.ok) return picture
  const folder = folderForName(name, walk.lights)
  const part = join(walk.dir, BESIDE, `.still.${randomBytes(6).toString('hex')}.part`)
  try {
    await mkdir(join(walk.dir, BESIDE), { recursive: true })
    await expectInside(walk.dir, BESIDE)
    const written = await writeStill(part, bytes)
    if (!written.ok) return written
    const still = await openStill(part)
    if (!still.ok) return still
    const { sha256, sizeBytes } = still.value
    return await inTurn(() =>
      lockFolder(walk.dir, async () => {
        const twin = await sameFile(walk.dir, sha256, sizeBytes)
        if (twin !== null) return failure(stillsSays['already-in-walk'](twin))
        return success({ file: await placed(walk.dir, part, folder, name), sha256 })
      }),
    )
  } catch (error) {
    throw writeFault(error, join(walk.dir, folder, name))
  } finally {
    await rm(part, { force: true })
    await sweepLeftovers(join(walk.dir, BESIDE))
  }
}

/** Writes what comes, as long as it is a still's. */
async function writeStill(part: string, bytes: AsyncIterable<Buffer>): Promise<Outcome<'written'>> {
  const handle = await open(part, 'wx')
  try {
    let head = Buffer.alloc(0)
    let size = 0
    for await (const some of bytes) {
      size += some.length
      if (size > LARGEST_FILE_BYTES) return failure(stillSays['still-too-long'](size, LARGEST_FILE_BYTES))
      if (head.length < HEAD_BYTES) {
        head = Buffer.concat([head, some])
        const format = head.length < HEAD_BYTES ? null : pictureFormat(head)
        if (format?.ok === false) return format
      }
      await handle.writeFile(some)
    }
    await handle.sync()
    return success('written')
  } finally {
    await handle.close()
  }
}

async function expectInside(dir: string, folder: string): Promise<void> {
  if (!(await liesInside(dir, join(dir, folder))))
    throw fault(stillsSays['folder-leaves-walk'](), { file: join(dir, folder) })
}

/** The walk's file below stills/ that holds the same bytes; null where there is none. */
async function sameFile(dir: string, sha256: string, sizeBytes: number): Promise<string | null> {
  const names = await readdir(join(dir, 'stills'), { recursive: true }).catch(() => [])
  for (const name of names.sort()) {
    const path = join(dir, 'stills', name)
    if ((await lstat(path).catch(() => null))?.size !== sizeBytes) continue
    if ((await fileSha256(path)) === sha256) return `stills/${name.replaceAll('\\', '/')}`
  }
  return null
}

/** Gives a file its name in the walk, or the next that is free, and returns that: no case of letters parts two names. */
async function placed(dir: string, part: string, folder: string, name: string): Promise<string> {
  for (const step of new Set(['stills', folder])) {
    await mkdir(join(dir, step), { recursive: true })
    await expectInside(dir, step)
  }
  const [, stem = '', ending = ''] = /^(.*)(\.[^.]*)$/.exec(name)!
  for (let count = 1; ; count++) {
    const free = count === 1 ? name : `${stem}-${count}${ending}`
    const key = nameKey(free)
    const names = await readdir(join(dir, folder))
    if (names.some((one) => nameKey(one) === key)) continue
    const file = `${folder}/${free}`
    if (await tookName(part, join(dir, file))) return file
  }
}

/** How names are compared: some disks part neither case nor the way accents are stored. */
function nameKey(name: string): string {
  return name.normalize('NFC').toLowerCase()
}

/** Gives a file a name that none has; false where one has it by now. */
async function tookName(part: string, file: string): Promise<boolean> {
  try {
    await link(part, file)
    await rm(part)
    return true
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    if (code === 'EEXIST') return false
    // Sticks know no second name of a file: an empty one holds the name until the file takes it.
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'].includes(code ?? '')) throw error
  }
  try {
    await (await open(file, 'wx')).close()
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false
    throw error
  }
  await rename(part, file).catch(async (error: unknown) => {
    await rm(file, { force: true })
    throw error
  })
  return true
}

/**
 * Removes a still that was taken in; fails where it is another file by now.
 * @throws `ProofwalkError` `cannot-write`
 */
export async function takeBackStill(dir: string, still: TakenStill): Promise<Outcome<TakenStill>> {
  const { file, sha256 } = still
  const path = join(dir, file)
  if ((await fileSha256(path)) !== sha256) return failure(stillsSays['changed-since-taken']())
  try {
    await rm(path)
    return success(still)
  } catch (error) {
    throw writeFault(error, path)
  }
}
