import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'

/** The command as built: the tests' own build runs before them. */
export const BIN = fileURLToPath(new URL('../../bin/proofwalk.js', import.meta.url))

/** What a run of the command left; `status` is null where a signal ended it. */
export interface Run {
  readonly status: number | null
  readonly out: string
  readonly err: string
}

export interface RunOptions {
  readonly cwd?: string
  readonly env?: Readonly<Record<string, string>>
  /** Ends it with SIGKILL after so long, in the midst of whatever it does. */
  readonly killAfterMs?: number
}

/** A run that takes longer than this hangs, and is ended: its status is then null. */
const HANGS_AFTER_MS = 90_000

/** Runs `proofwalk` as built, in a process of its own, with no terminal. That takes half a second and more: what is not about the process or its threads runs by `runCommand`. */
export function runProofwalk(args: readonly string[], options: RunOptions = {}): Promise<Run> {
  return runProgram(process.execPath, [BIN, ...args], options)
}

/** Runs a line of bash in which `"$@"` is the `proofwalk` command with the arguments. */
export function runThroughShell(
  line: string,
  args: readonly string[],
  options: RunOptions = {},
): Promise<Run> {
  return runProgram('bash', ['-c', line, 'bash', process.execPath, BIN, ...args], options)
}

/** Runs any program without standard input and takes down what it writes. */
export function runProgram(program: string, args: readonly string[], options: RunOptions = {}): Promise<Run> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, {
      cwd: options.cwd,
      env: { ...process.env, ...options.env },
      stdio: ['ignore', 'pipe', 'pipe'],
    })
    let out = ''
    let err = ''
    child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text))
    child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text))
    const end = setTimeout(() => child.kill('SIGKILL'), options.killAfterMs ?? HANGS_AFTER_MS)
    child.on('error', reject)
    child.on('close', (status) => {
      clearTimeout(end)
      resolve({ status, out, err })
    })
  })
}
