import { expect, test } from 'vitest'
import { printFault } from '../../src/cli/terminal/printFault.js'
import { diskFault, writeFault } from '../../src/files/writeWhole.js'
import { faultOfReading } from '../../src/still/readStillBytes.js'

const REASONS = {
  EIO: 'its disk or stick reports errors',
  ENODEV: 'its disk or stick is gone',
  EBUSY: 'another program holds it',
  EFBIG: 'it is too large for the disk or the system',
  EMFILE: 'too many files are open',
  ENOSPC: 'the disk is full',
  EROFS: 'the disk is read-only',
}

function systemError(code: string): Error {
  return Object.assign(new Error(`${code}: as the system says it, open '/a/b'`), { code, path: '/a/b' })
}

test.each(Object.entries(REASONS))('%s has a sentence, in reading and in writing', (code, reason) => {
  expect(writeFault(systemError(code), 'results.json')).toMatchObject({
    code: 'cannot-write',
    message: `cannot be written: ${reason}`,
    exitStatus: 2,
  })
  expect(faultOfReading(systemError(code))).toMatchObject({
    code: 'still-unreadable',
    message: expect.stringContaining(`it could not be read: ${reason}; `) as string,
  })
  let told = ''
  expect(printFault(systemError(code), { err: (text) => (told += text) })).toBe(2)
  expect(told).toMatch(/^proofwalk: \/a\/b: cannot be read or written: .+; .+\n$/)
  expect(told).toContain(reason)
})

test('an error that is none of the disk stays a fault of our own', () => {
  const error = new TypeError('x is undefined')
  expect(diskFault(error)).toBeNull()
  expect(writeFault(error, 'results.json')).toBe(error)
  expect(printFault(error, { err: () => undefined })).toBe(3)
})
