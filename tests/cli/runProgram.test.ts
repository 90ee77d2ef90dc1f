import { expect, test } from 'vitest'
import { printFault } from '../../src/cli/terminal/printFault.js'
import { usageFault } from '../../src/cli/terminal/usageFault.js'
import { ProofwalkError, ProofwalkErrors } from '../../src/errors.js'
import { runCommand } from './recordingTerminal.js'

function printed(error: unknown): { status: number; err: string } {
  let err = ''
  const status = printFault(error, { err: (text) => void (err += text) })
  return { status, err }
}

test('a fault of the user is one line of file, field, message and mend, and ends with 2', () => {
  const place = { file: 'walk.yaml', field: 'marks[0]', mend: 'write 4 m' }
  expect(printed(new ProofwalkError('bad', '"4" has no unit', place))).toEqual({
    status: 2,
    err: 'proofwalk: walk.yaml: marks[0]: "4" has no unit; write 4 m\n',
  })
})

test('several faults are a line each, and a line break in a name does not make two of one', () => {
  const faults = ['a\nb.yaml', 'c.yaml'].map((file) => new ProofwalkError('bad', 'is empty', { file }))
  expect(printed(new ProofwalkErrors(faults)).err).toBe(
    'proofwalk: a\\u000ab.yaml: is empty\nproofwalk: c.yaml: is empty\n',
  )
})

test('a fault of ours ends with 3 and shows where it came from', () => {
  const { status, err } = printed(new RangeError('beyond the end'))
  expect(status).toBe(3)
  expect(err).toMatch(/^proofwalk: a fault of our own, please report it.*\nRangeError: beyond the end\n +at /)
})

test.each([
  ["error: unknown option '--jsn'\n(Did you mean --json?)\n", "unknown option '--jsn'; did you mean --json?"],
  ["error: missing required argument 'dir'\n", "missing required argument 'dir'; see proofwalk --help"],
  [
    "error: command-argument value 'wlak' is invalid for argument 'file'. Allowed choices are walk, results.\n",
    "command-argument value 'wlak' is invalid for argument 'file'; Allowed choices are walk, results; did you mean walk?",
  ],
])('%j becomes one line of ours', (commander, ours) => {
  expect(usageFault(commander)).toBe(`proofwalk: ${ours}\n`)
})

test.each([
  [['new'], "missing required argument 'dir'; see proofwalk new --help"],
  [['measure'], "missing required argument 'targets'; see proofwalk measure --help"],
  [['frobnicate'], "unknown command 'frobnicate'; see proofwalk --help"],
])('%j points to the help of the command that was meant', async (args, says) => {
  expect((await runCommand(...args)).err).toBe(`proofwalk: ${says}\n`)
})

test('help and version end with 0 on standard output', async () => {
  for (const flag of ['--help', '--version']) {
    const { out, err, status } = await runCommand(flag)
    expect([status, err]).toEqual([0, ''])
    expect(out).not.toBe('')
  }
})
