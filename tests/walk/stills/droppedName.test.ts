import { expect, test } from 'vitest'
import { cleanName, folderForName } from '../../../src/walk/stills/droppedName.js'

// reserved signs and device names: Microsoft, "Naming Files, Paths, and Namespaces"; control and direction signs: Unicode UAX #9, 2
test.each([
  ['16m.jpg', '16m.jpg'],
  ['../../etc/16m.jpg', '16m.jpg'],
  ['..\\..\\16m.jpg', '16m.jpg'],
  ['/etc/passwd/16m.JPG', '16m.JPG'],
  ['16m\u202egpj.jpg', '16mgpj.jpg'],
  ['16m\u0000\u001b[31m.jpg', '16m[31m.jpg'],
  ['16m\n\tday.jpg', '16m day.jpg'],
  ['.hidden.jpg', 'hidden.jpg'],
  ['...jpg', 'jpg'],
  ['16m. .jpg', '16m.jpg'],
  ['con.jpg', '_con.jpg'],
  ['NUL.16m.jpg', '_NUL.16m.jpg'],
  ['com1 .jpg', '_com1.jpg'],
  ['console.jpg', 'console.jpg'],
  ['a<b>c:d|e?f*g.jpg', 'a-b-c-d-e-f-g.jpg'],
  ['5\'6".jpg', "5'6\u2033.jpg"],
  ['\u202e.jpg', 'jpg'],
  ['16m cafe\u0301.jpg', '16m caf\u00e9.jpg'],
])('%j is kept as %j', (given, kept) => {
  expect(cleanName(given)).toBe(kept)
  expect(cleanName(kept)).toBe(kept)
})

test('a name of any length is kept in 200 bytes, its begin and its ending whole, no letter cut in two', () => {
  for (const letter of ['x', '\u00e9', '\u{1F6A2}']) {
    const kept = cleanName(`16m ${letter.repeat(400)}.jpeg`)
    expect(kept).toMatch(new RegExp(`^16m ${letter}+\\.jpeg$`, 'u'))
    const bytes = Buffer.byteLength(kept)
    expect(bytes).toBeLessThanOrEqual(200)
    expect(bytes + Buffer.byteLength(letter)).toBeGreaterThan(200)
  }
})

test.each([
  ['16m-day.jpg', 'stills/day'],
  ['16m infrared 2.jpg', 'stills/infrared'],
  ['16m-IR.jpg', 'stills/infrared'],
  ['45ft_Street lamp_b.jpg', 'stills/street lamp'],
  ["5'6\u2033 day.jpg", 'stills/day'],
  ['16m.jpg', 'stills'],
  ['16m-dusk.jpg', 'stills'],
  ['day-16m.jpg', 'stills'],
  ['day.jpg', 'stills'],
  ['16-day.jpg', 'stills'],
  ['0m-day.jpg', 'stills'],
  ['16m-birthday.jpg', 'stills'],
  ['16m-day-infrared.jpg', 'stills'],
])('%s goes to %s', (name, folder) => {
  expect(folderForName(name, ['day', 'infrared', 'street lamp'])).toBe(folder)
})
