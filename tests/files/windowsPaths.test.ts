import { posix, win32 } from 'node:path'
import { expect, test } from 'vitest'
import { openCommand } from '../../src/cli/terminal/openCommand.js'
import { shellWord } from '../../src/cli/terminal/shellWord.js'
import { isInside } from '../../src/files/readInnerFile.js'
import { pathFault } from '../../src/walk/schemas/fieldSchemas.js'

test.each([
  ['C:\\walks\\gate', 'C:\\walks\\gate\\stills\\day\\4m.jpg', true],
  ['C:\\walks\\gate', 'c:\\WALKS\\gate\\walk.yaml', true],
  ['C:\\walks\\gate', 'C:\\walks\\gate', false],
  ['C:\\walks\\gate', 'C:\\walks\\gate-2\\walk.yaml', false],
  ['C:\\walks\\gate', 'C:\\walks\\secret.txt', false],
  ['C:\\walks\\gate', 'D:\\walks\\gate\\walk.yaml', false],
  ['C:\\walks\\gate', '\\\\server\\share\\walk.yaml', false],
  ['\\\\server\\share\\gate', '\\\\server\\share\\gate\\..name.jpg', true],
  ['C:\\', 'C:\\walk.yaml', true],
])('of %s, %s lies inside: %s', (dir, file, inside) => {
  expect(isInside(dir, file, win32)).toBe(inside)
})

test('the same rules hold where paths have slashes', () => {
  expect(isInside('/walks/gate', '/walks/gate/stills/..4m.jpg', posix)).toBe(true)
  expect(isInside('/walks/gate', '/walks/gate-2/a', posix)).toBe(false)
  expect(isInside('/walks/gate', '/walks', posix)).toBe(false)
})

test('a path of a walk is one on every machine: no drive, no backslash, nothing upward', () => {
  for (const path of [
    'C:\\a.jpg',
    'c:/a.jpg',
    'C:a.jpg',
    'stills\\day\\4m.jpg',
    '\\\\server\\a.jpg',
    '/a.jpg',
    '../a.jpg',
  ])
    expect(pathFault(path), path).not.toBeNull()
  expect(pathFault('stills/day/4m.jpg')).toBeNull()
})

test('a path is typed as the shell of its machine takes it', () => {
  expect(shellWord('C:\\walks\\gate', 'win32')).toBe('C:\\walks\\gate')
  expect(shellWord('C:\\my walks\\gate', 'win32')).toBe('"C:\\my walks\\gate"')
  expect(shellWord('my walks/gate', 'linux')).toBe("'my walks/gate'")
  expect(shellWord("it's\n\u202e", 'linux')).toBe("$'it\\'s\\x0a\\xe2\\x80\\xae'")
  expect(openCommand('C:\\my walks\\sheet.pdf', 'win32')).toBe('start "" "C:\\my walks\\sheet.pdf"')
})
