import { execFile } from 'node:child_process'
import { createHash } from 'node:crypto'
import { symlink } from 'node:fs/promises'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { describe, expect, test } from 'vitest'
import { ProofwalkErrors } from '../../../src/errors.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { temporaryWalk } from '../temporaryWalk.js'
import { SHORT_WALK } from '../walkText.js'

const grading = JSON.stringify({
  id: 'harbour',
  name: 'Harbour rules',
  source: 'invented for this test',
  grades: [
    { id: 'see', name: 'See', limit: 20 },
    { id: 'know', name: 'Know', limit: 200, element: 0.01 },
  ],
  leastRoseK: 4,
})

async function messageOf(dir: string): Promise<string> {
  const error: unknown = await readWalk(dir).then(
    () => 'the walk was read',
    (reason: unknown) => reason,
  )
  if (!(error instanceof ProofwalkErrors)) throw error
  return error.message.replaceAll(dir, 'DIR')
}

test('a walk carries the hash of its bytes', async () => {
  const dir = await temporaryWalk({ 'walk.yaml': SHORT_WALK })
  const walk = await readWalk(dir)
  expect(walk.walkSha256).toBe(createHash('sha256').update(SHORT_WALK).digest('hex'))
  expect(walk.dir).toBe(dir)
})

test('a grading file of its own is read, with its hash', async () => {
  const text = `${SHORT_WALK}grading: rules/harbour.json\npromises: [{ grade: know, at: 4 m, light: day }]\n`
  const walk = await readWalk(await temporaryWalk({ 'walk.yaml': text, 'rules/harbour.json': grading }))
  expect(walk.grading).toEqual(JSON.parse(grading))
  expect(walk.gradingSha256).toBe(createHash('sha256').update(grading).digest('hex'))
})

describe('what cannot be read is told in one line', () => {
  test('no folder, no walk.yaml, a file for a folder', async () => {
    const dir = await temporaryWalk({ file: 'x' })
    expect(await messageOf(dir)).toBe('DIR: has no walk.yaml; proofwalk new DIR makes one')
    expect(await messageOf(join(dir, 'gone'))).toMatch(/^DIR: is not there; proofwalk new/)
    expect(await messageOf(join(dir, 'file'))).toBe(
      'DIR: is not a folder; name the folder that holds walk.yaml',
    )
  })

  test('inside a walk, the walk is named', async () => {
    const dir = await temporaryWalk({ 'cam1/walk.yaml': SHORT_WALK, 'cam1/stills/day/4m.jpg': 'x' })
    const says = `has no walk.yaml; the walk is ${dir}/cam1: proofwalk measure ${dir}/cam1`
    for (const inside of ['cam1/stills', 'cam1/stills/', 'cam1/stills/day']) {
      await expect(readWalk(`${dir}/${inside}`)).rejects.toThrow(`${dir}/${inside}: ${says}`)
    }
    expect(await messageOf(dir)).toContain('proofwalk new')
  })

  test('an empty walk.yaml, and one in another encoding', async () => {
    expect(await messageOf(await temporaryWalk({ 'walk.yaml': ' \n' }))).toContain('DIR/walk.yaml: is empty')
    const utf16 = await temporaryWalk({ 'walk.yaml': Buffer.from(`\ufeff${SHORT_WALK}`, 'utf16le') })
    expect(await messageOf(utf16)).toBe('DIR/walk.yaml: is not UTF-8 text; save it as UTF-8')
  })

  test('a walk.yaml far too long', async () => {
    const dir = await temporaryWalk({ 'walk.yaml': '#'.repeat(8_000_001) })
    expect(await messageOf(dir)).toContain('DIR/walk.yaml: is longer than 8 MB')
  })

  test('a pipe, and a link out of the walk', async () => {
    const dir = await temporaryWalk({})
    await promisify(execFile)('mkfifo', [join(dir, 'walk.yaml')])
    expect(await messageOf(dir)).toBe('DIR/walk.yaml: is not an ordinary file; put a file there')
    const other = await temporaryWalk({ 'walk.yaml': SHORT_WALK })
    const linked = await temporaryWalk({ x: '' })
    await symlink(join(other, 'walk.yaml'), join(linked, 'walk.yaml'))
    expect(await messageOf(linked)).toContain("DIR/walk.yaml: is a link out of the walk's folder")
  })

  test.each([
    [
      '../harbour.json',
      'walk.yaml: grading (line 6): "../harbour.json" leaves the walk\'s folder; copy the grading file',
    ],
    ['gone.json', 'walk.yaml: grading (line 6): "gone.json" is not there; put the grading file there'],
    ['bad.json', 'DIR/bad.json: grades[1].limit (line 1): 10 is not above the 20 before it'],
    ['odd.yaml', 'DIR/odd.yaml: grades[0].limt (line 5): is not a known key; did you mean limit?'],
  ])('the grading file %s', async (named, says) => {
    const dir = await temporaryWalk({
      'walk.yaml': `${SHORT_WALK}grading: ${named}\n`,
      'bad.json': grading.replace('"limit":200', '"limit":10'),
      'odd.yaml':
        'id: odd\nname: Odd\nsource: invented\ngrades:\n  - { id: see, name: See, limit: 3, limt: 4 }\n',
    })
    expect(await messageOf(dir)).toContain(says)
  })

  test.each([
    ['id', { id: 'iec-62676-4-2014' }],
    ['name', { name: 'IEC 62676-4:2014' }],
  ])('a grading of its own that goes by the %s of a built-in one', async (_, taken) => {
    const dir = await temporaryWalk({
      'walk.yaml': `${SHORT_WALK}grading: own.json\n`,
      'own.json': JSON.stringify({ ...JSON.parse(grading), ...taken }),
    })
    await expect(readWalk(dir)).rejects.toThrow('has the id or name of IEC 62676-4:2014')
  })

  test('a grading whose grade is called none, or stands twice', async () => {
    const dir = await temporaryWalk({
      'walk.yaml': `${SHORT_WALK}grading: bad.json\n`,
      'bad.json': grading.replace('"id":"see"', '"id":"none"').replace('"id":"know"', '"id":"none"'),
    })
    const message = await messageOf(dir)
    expect(message).toContain('grades[0].id (line 1): is reserved')
  })
})
