import { createHash } from 'node:crypto'
import { parse } from 'yaml'
import { describe, expect, test } from 'vitest'
import { plainYaml, yamlComments } from '../../src/files/plainYaml.js'
import { parseWalk } from '../../src/walk/read/parseWalk.js'
import { FULL_WALK } from '../walk/walkText.js'

const COMMENTED = `# head
site: "a # no comment"   # told
notes: |  # kept as text below
  one # of the text

  # of the text as well
lights: [day, # first
  # alone on its line
  night] # last

camera: { name: c#1 }
\t# behind a tab
# end`

describe('the plain text of a YAML file', () => {
  test('is the text without its comments, all else byte for byte', () => {
    expect(plainYaml(COMMENTED)).toBe(`site: "a # no comment"
notes: |
  one # of the text

  # of the text as well
lights: [day,
  night]

camera: { name: c#1 }
`)
  })

  test.each([
    ['newlines', COMMENTED],
    ['carriage returns', COMMENTED.replaceAll('\n', '\r\n')],
    ['a walk with every key', FULL_WALK],
  ])('means the same and has no comment left: %s', (_, text) => {
    const plain = plainYaml(text)
    expect(parse(plain)).toEqual(parse(text))
    expect(yamlComments(text).length).toBeGreaterThan(0)
    expect(yamlComments(plain)).toEqual([])
    expect(plainYaml(plain)).toBe(plain)
  })

  test('keeps line ends as they are', () => {
    expect(plainYaml('a: 1 # x\r\n# y\r\nb: 2\r\n')).toBe('a: 1\r\nb: 2\r\n')
    expect(plainYaml('{ "a": 1 }')).toBe('{ "a": 1 }')
  })

  test('is what a walk is known by where comments do not count', async () => {
    const { walkPlainSha256 } = await parseWalk(FULL_WALK, { file: 'walk.yaml', dir: '.', sha256: '' })
    const bare = FULL_WALK.replace('                # of the walk', '')
    expect(walkPlainSha256).toBe(createHash('sha256').update(bare).digest('hex'))
  })
})
