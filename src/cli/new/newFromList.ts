import { randomBytes } from 'node:crypto'
import { cp, lstat, mkdir, readFile, rename, rm, rmdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import { listedWalks, type ListedWalk } from '../../walk/new/camerasCsv.js'
import { promisedBy } from '../../walk/new/newPromise.js'
import { readGrading } from '../../walk/read/readGrading.js'
import { ProofwalkError } from '../../errors.js'
import { readOrdinaryFile } from '../../files/readOrdinaryFile.js'
import { textOf } from '../../files/readInnerFile.js'
import { readWalk } from '../../walk/read/readWalk.js'
import { writeFault } from '../../files/writeWhole.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** Makes a walk's folder in `dir` for every camera of a list, all alike a walk that is there; all of them, or none where anything is at fault. */
export async function newFromList(
  dir: string,
  from: string,
  list: string,
  terminal: Terminal,
): Promise<void> {
  const source = await readWalk(from)
  const walkText = await readFile(join(from, 'walk.yaml'), 'utf8')
  const walks = await listedWalks(await listText(list), {
    walkText,
    file: list,
    promisedBy:
      source.gradingSha256 === null
        ? promisedBy(source.grading.id, source.units)
        : { grading: source.grading, tasks: [], units: source.units },
    carried: source.references,
    findGrading: (named) => readGrading(from, named),
  })
  const carried = [source.issuer.logo, source.gradingSha256 === null ? null : gradingPath(walkText)]
  await expectFree(dir, walks)
  await makeAll(dir, walks, (folder) =>
    Promise.all(
      carried.flatMap((path) =>
        path === null ? [] : [cp(join(from, path), join(folder, path), { recursive: true })],
      ),
    ),
  )
  terminal.out(`wrote ${walks.length} walks like ${from} into ${dir}:\n`)
  for (const { folder } of walks) terminal.out(`  ${join(dir, folder)}\n`)
  terminal.out(
    'put the stills of each camera into its own folder and click the corners, proofwalk pick; then measure all at once\n',
  )
  terminal.out(`Next: proofwalk measure ${shellWord(dir)}/*\n`)
}

async function listText(list: string): Promise<string> {
  let bytes: Buffer
  try {
    bytes = await readOrdinaryFile(list)
  } catch (error) {
    if (error instanceof ProofwalkError) throw error
    throw fault(cliSays['no-list']((error as NodeJS.ErrnoException).code), { file: list })
  }
  return textOf(bytes, list)
}

/** The path of the walk's own grading file as walk.yaml names it. */
function gradingPath(walkText: string): string | null {
  return /^grading:\s*["']?([^"'#\n]+?)["']?\s*(?:#.*)?$/m.exec(walkText)?.[1] ?? null
}

async function expectFree(dir: string, walks: readonly ListedWalk[]): Promise<void> {
  for (const { folder } of walks) {
    const path = join(dir, folder)
    const isThere = await lstat(path).then(
      () => true,
      () => false,
    )
    if (isThere) throw fault(cliSays['one-of-many-already-there'](), { file: path })
  }
}

/** Makes every folder hidden beside its place first; they take their names once all are whole, and none keeps it where one cannot. */
async function makeAll(
  dir: string,
  walks: readonly ListedWalk[],
  carry: (folder: string) => Promise<unknown>,
): Promise<void> {
  const made = await mkdir(dir, { recursive: true }).catch((error: unknown) => {
    throw writeFault(error, dir)
  })
  const making = join(dir, `.new-${randomBytes(6).toString('hex')}`)
  const placed: string[] = []
  try {
    for (const { folder, text, lights } of walks) {
      const path = join(making, folder)
      for (const light of lights) await mkdir(join(path, 'stills', light), { recursive: true })
      await carry(path)
      await writeFile(join(path, 'walk.yaml'), text)
    }
    for (const { folder } of walks) {
      await rename(join(making, folder), join(dir, folder))
      placed.push(join(dir, folder))
    }
    await rm(making, { recursive: true, force: true })
  } catch (error) {
    for (const path of [making, ...placed]) await rm(path, { recursive: true, force: true })
    if (made !== undefined) await rmdir(dir).catch(() => undefined)
    throw writeFault(error, dir)
  }
}
