import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { sha256Of } from '../../../src/files/fileSha256.js'
import { readSheetPdf } from '../../../src/sheet/verify/readSheetPdf.js'
import { serveWalk } from '../servedWalk.js'
import { runCommand } from '../../cli/recordingTerminal.js'

test('paper and masking are kept in walk.yaml, and a masked sheet gives way to one that shows more only by a word', async () => {
  const { dir, post, walk } = await serveWalk()
  const at = (name: string): string => join(dir, name)
  const before = `# everything here is invented\n${await readFile(at('walk.yaml'), 'utf8')}`
  await writeFile(at('walk.yaml'), before)
  expect((await walk()).sheet).toBeNull()
  const letter = { paper: 'Letter', maskPlates: true, maskPeople: false } as const
  expect((await post('/api/sheet', letter)).json).toEqual({ file: 'sheet.pdf' })
  expect(await readFile(at('walk.yaml'), 'utf8')).toBe(`${before}sheet: { paper: Letter, mask: plates }\n`)
  expect((await walk()).sheet).toEqual(letter)
  const masked = await readFile(at('sheet.pdf'))
  expect((await readSheetPdf(masked, '')).text).toMatch(/plates, boards and charts are blurred/)
  expect(masked.toString('latin1')).toContain('[0 0 612 792]')
  const results = JSON.parse(await readFile(at('results.json'), 'utf8')) as { inputs: { walk: string } }
  expect(results.inputs.walk).toBe(sha256Of(await readFile(at('walk.yaml'))))

  const bare = { paper: 'A4', maskPlates: false, maskPeople: false } as const
  const other = { ...bare, maskPeople: true }
  for (const [shown, words] of [
    [bare, 'plates, boards and charts'],
    [other, 'plates, boards and charts'],
  ] as const) {
    const refused = await post('/api/sheet', shown)
    expect([refused.status, refused.json]).toEqual([
      422,
      { code: 'sheet-was-masked', message: `the sheet that was there is masked, this one shows ${words}` },
    ])
  }
  expect(await readFile(at('sheet.pdf'))).toEqual(masked)
  expect((await walk()).sheet).toEqual(letter)

  const both = { ...letter, maskPeople: true }
  expect((await post('/api/sheet', both)).status).toBe(200)
  expect((await readFile(at('walk.yaml'), 'utf8')).endsWith('\nsheet: { paper: Letter, mask: both }\n')).toBe(
    true,
  )
  const all = await post('/api/sheet', bare)
  expect((all.json as { message: string }).message).toMatch(/this one shows all of its pictures$/)
  expect((await post('/api/sheet', { ...bare, overMasked: true })).status).toBe(200)
  expect((await readSheetPdf(await readFile(at('sheet.pdf')), '')).text).not.toContain('masked')
  const kept = await readFile(at('walk.yaml'), 'utf8')
  expect(kept).toBe(`${before}sheet: { paper: A4, mask: none }\n`)
  expect((await post('/api/sheet', bare)).status).toBe(200)
  expect(await readFile(at('walk.yaml'), 'utf8')).toBe(kept)
})

test('the command writes the sheet as walk.yaml says, adds what its options say, and says where it shows what was masked', async () => {
  const { dir } = await serveWalk()
  const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
  const sheet = async (...options: string[]): Promise<[string, string, boolean]> => {
    const { err } = await runCommand('sheet', dir, ...options)
    const bytes = await readFile(join(dir, 'sheet.pdf'))
    const masked = /The pictures are masked: ([^.]+)\./.exec((await readSheetPdf(bytes, '')).text)
    const isLetter = bytes.toString('latin1').includes('[0 0 612 792]')
    return [err.replace(/^measuring first.*\n/, ''), masked?.[1] ?? 'nothing', isLetter]
  }
  const word = `${join(dir, 'sheet.pdf')}: the sheet that was there is masked, this one shows`
  await writeFile(join(dir, 'walk.yaml'), `${yaml}sheet: { paper: Letter, mask: people }\n`)
  expect(await sheet()).toEqual(['', 'everything but plates, boards and charts is blurred', true])
  expect(await sheet('--mask-plates', '--paper', 'A4')).toEqual(['', 'they are blurred as a whole', false])
  expect(await sheet()).toEqual([
    `${word} plates, boards and charts\n`,
    'everything but plates, boards and charts is blurred',
    true,
  ])
  expect(await sheet('--mask', 'none')).toEqual([
    `${word} all but plates, boards and charts\n`,
    'nothing',
    true,
  ])
  expect(await sheet('--mask', 'plates', '--mask', 'people')).toEqual([
    '',
    'they are blurred as a whole',
    true,
  ])
  await writeFile(join(dir, 'walk.yaml'), `${yaml}sheet: { paper: A3 }\n`)
  const wrong = await runCommand('sheet', dir)
  expect([wrong.status, wrong.err]).toEqual([
    2,
    expect.stringMatching(/walk\.yaml: sheet\.paper \(line 12\): .+ did you mean A4\?/),
  ])
})
