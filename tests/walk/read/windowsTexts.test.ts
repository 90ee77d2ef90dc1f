import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { runCommand } from '../../cli/recordingTerminal.js'
import { temporaryHome } from '../../journeys/temporaryHome.js'

const home = temporaryHome()

interface Results {
  readonly stills: unknown
  readonly promises: unknown
  readonly ranges: unknown
}

async function measured(dir: string): Promise<Results> {
  const run = await runCommand('measure', dir, '--json')
  expect([run.err, run.status]).toEqual(['', 0])
  const { stills, promises, ranges } = JSON.parse(run.out) as Results
  return { stills, promises, ranges }
}

test('texts with CRLF and a byte order mark, as editors on Windows write them, say the same', async () => {
  const plain = await home.freshWalk('plain')
  const written = await home.freshWalk('written-on-windows')
  for (const name of ['walk.yaml', 'picks.json']) {
    const text = await readFile(join(written, name), 'utf8')
    await writeFile(join(written, name), `\uFEFF${text.replaceAll('\n', '\r\n')}`)
  }
  expect(await measured(written)).toEqual(await measured(plain))
})

test('a path far longer than Windows took once is a path like any other', async () => {
  const plain = await home.freshWalk('short')
  const long = join('long', ...Array.from({ length: 5 }, (_, index) => `${index}`.padEnd(60, 'x')))
  const far = await home.freshWalk(long)
  expect(far.length).toBeGreaterThan(300)
  expect(await measured(far)).toEqual(await measured(plain))
})

test('a text that is not UTF-8, as some editors save it, is told with its mend', async () => {
  const dir = await home.freshWalk('utf-16')
  const text = await readFile(join(dir, 'walk.yaml'), 'utf8')
  await writeFile(join(dir, 'walk.yaml'), Buffer.from(`\uFEFF${text}`, 'utf16le'))
  const run = await runCommand('measure', dir)
  expect([run.err, run.status]).toEqual([
    `proofwalk: ${join(dir, 'walk.yaml')}: is not UTF-8 text; save it as UTF-8\n`,
    2,
  ])
})
