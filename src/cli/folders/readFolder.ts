import { stat } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { startTrialServer } from '../../page/server/startTrialServer.js'
import { fault } from '../../sentences.js'
import { readWalk } from '../../walk/read/readWalk.js'
import { expectPackOf, packTrial, readPack } from '../../walk/trial/packTrial.js'
import { trialCrops } from '../../walk/trial/trialCrops.js'
import type { TrialSource } from '../../walk/trial/trialSource.js'
import { mergePack, walkTrial, writePack } from '../../walk/trial/walkTrial.js'
import { resultsFor } from '../measure/resultsFor.js'
import { cliSays } from '../sentences.js'
import { serveUntilEnded } from '../terminal/serveUntilEnded.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options of `read`, as typed. */
export interface ReadOptions {
  readonly pack?: string
  readonly merge?: string
  readonly port?: number
  readonly open: boolean
}

/**
 * The reading trial of a walk's folder, or of a file it was packed into: serves its page, packs it, or takes a pack back in.
 * @throws `ProofwalkError` `option-out-of-place`, `already-there`, and what reading the walk, its cards, readings and packs throws
 */
export async function readFolder(dir: string, options: ReadOptions, terminal: Terminal): Promise<void> {
  const isPack = await stat(dir).then(
    (facts) => facts.isFile(),
    () => false,
  )
  if (isPack) return readPacked(dir, options, terminal)
  if (options.pack !== undefined && options.merge !== undefined)
    throw fault(cliSays['option-out-of-place']('pack-or-merge'), { field: '--merge' })
  const source = await trialOf(dir, terminal)
  if (options.pack !== undefined) return packFile(dir, options.pack, source, terminal)
  if (options.merge !== undefined) {
    const pack = await readPack(options.merge)
    expectPackOf(options.merge, pack, source)
    const { taken, known, contrary } = await mergePack(source, pack)
    terminal.out(
      `${options.merge}: ${taken} answers taken` +
        (known === 0 ? '' : `, ${known} were there already`) +
        (contrary === 0 ? '' : `, ${contrary} left out: the same reader had answered otherwise before`) +
        `\nNext: proofwalk measure ${shellWord(dir)}\n`,
    )
    return terminal.setStatus(0)
  }
  await serveUntilEnded(await startTrialServer(source, portOf(options)), dir, options.open, terminal)
  terminal.out(`Next: proofwalk measure ${shellWord(dir)}\n`)
  terminal.setStatus(0)
}

const portOf = ({ port }: ReadOptions) => (port === undefined ? {} : { port })

async function trialOf(dir: string, terminal: Terminal): Promise<TrialSource> {
  const walk = await readWalk(dir)
  const { crops, left } = await trialCrops(walk, await resultsFor(walk, null, terminal))
  for (const why of left) terminal.err(`${why}\n`)
  return walkTrial(dir, crops)
}

async function packFile(dir: string, file: string, source: TrialSource, terminal: Terminal): Promise<void> {
  if (await stat(file).catch(() => null)) throw fault(cliSays['pack-there'](), { file })
  await writePack(file, source)
  terminal.out(
    `${file}: ${source.crops.size} crops, nothing of what they say\n` +
      `Next: proofwalk read ${shellWord(file)}, on any machine; then proofwalk read ${shellWord(dir)} --merge ${shellWord(file)}\n`,
  )
  terminal.setStatus(0)
}

async function readPacked(file: string, options: ReadOptions, terminal: Terminal): Promise<void> {
  for (const option of ['pack', 'merge'] as const)
    if (options[option] !== undefined)
      throw fault(cliSays['option-out-of-place']('of-a-walk'), { field: `--${option}` })
  const source = packTrial(file, await readPack(file))
  await serveUntilEnded(await startTrialServer(source, portOf(options)), tmpdir(), options.open, terminal)
  terminal.out(
    `Next: take ${shellWord(file)} back to its walk: proofwalk read DIR --merge ${shellWord(file)}\n`,
  )
  terminal.setStatus(0)
}
