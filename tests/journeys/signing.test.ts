import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { runCommand } from '../cli/recordingTerminal.js'
import { signingKeyFile } from '../support/signingKey.js'
import { runProofwalk } from './runProofwalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

test('a sheet is signed with a key and verified by whom; without one it is the same to the byte', async () => {
  const dir = await home.freshWalk('signed')
  const sheet = join(dir, 'sheet.pdf')
  await runCommand('sheet', dir)
  const plain = await readFile(sheet)
  const key = home.path('key.p12')
  await writeFile(key, signingKeyFile('Ada Example', 'open sesame'))
  await writeFile(home.path('secret.txt'), 'open sesame\r\n')

  const run = await runCommand('sheet', dir, '--sign', key, '--passphrase-file', home.path('secret.txt'))
  expect([run.status, run.err]).toEqual([0, ''])
  const signed = await readFile(sheet)
  expect(signed.subarray(0, plain.length).equals(plain)).toBe(true)
  const verified = await runCommand('verify', dir)
  expect(verified.status).toBe(0)
  expect(verified.out).toContain('sheet.pdf: its signature: signed by O=Invented Survey, CN=Ada Example')
  expect(verified.out).toContain('whose the certificate is')

  signed[5000]! ^= 1
  await writeFile(sheet, signed)
  const changed = await runCommand('verify', sheet)
  expect(changed.status).toBe(1)
  expect(changed.out).toContain(
    'its signature: signed by O=Invented Survey, CN=Ada Example, and changed since',
  )

  const env = { PROOFWALK_PASSPHRASE: 'wrong' }
  const refused = await runProofwalk(['sheet', dir, '--sign', key], { env })
  expect(refused.status).toBe(2)
  expect(refused.err).toMatch(/^proofwalk: .*key\.p12: cannot be signed with \(.+\); name a PKCS#12 file/)
  await runCommand('sheet', dir)
  expect((await readFile(sheet)).equals(plain)).toBe(true)
}, 120_000)
