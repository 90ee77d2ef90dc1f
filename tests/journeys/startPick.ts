import { type ChildProcess, spawn } from 'node:child_process'
import { BIN } from './runProofwalk.js'

/** A `pick` that serves, and what it printed so far. */
export interface StartedPick {
  readonly child: ChildProcess
  /** The first line it printed. */
  readonly address: string
  readonly said: { out: string; err: string }
  /** Its status once it has ended; null where a signal ended it. */
  readonly ended: Promise<number | null>
}

/** Starts `pick` on a walk and waits until it has printed its address. */
export async function startPick(dir: string): Promise<StartedPick> {
  const child = spawn(process.execPath, [BIN, 'pick', dir, '--no-open'], {
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const said = { out: '', err: '' }
  child.stderr.setEncoding('utf8').on('data', (text: string) => (said.err += text))
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve))
  const address = await new Promise<string>((resolve, reject) => {
    child.on('error', reject)
    void ended.then(() => reject(new Error(said.err)))
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      said.out += text
      if (said.out.includes('\n')) resolve(said.out.slice(0, said.out.indexOf('\n')))
    })
  })
  return { child, address, said, ended }
}
