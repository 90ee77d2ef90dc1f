import { createHash } from 'node:crypto'
import { afterEach, expect, it } from 'vitest'
import { inventedResults } from './inventedResults.js'
import { sheetOf } from './sheetOf.js'

const zone = process.env['TZ']

afterEach(() => {
  if (zone === undefined) delete process.env['TZ']
  else process.env['TZ'] = zone
})

const digest = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')

it('has the same bytes on every run and in every time zone', async () => {
  const digests: string[] = []
  const offsets: number[] = []
  for (const name of ['UTC', 'Pacific/Kiritimati', 'America/St_Johns', 'UTC']) {
    process.env['TZ'] = name
    offsets.push(new Date(2026, 2, 14).getTimezoneOffset())
    digests.push(digest(await sheetOf(inventedResults(), { maskPlates: true })))
  }
  expect(new Set(offsets).size, 'the zone really changed').toBe(3)
  expect(new Set(digests).size).toBe(1)
})

it('has other bytes for another walk', async () => {
  const one = digest(await sheetOf(inventedResults({ date: '2026-03-14' })))
  const other = digest(await sheetOf(inventedResults({ date: '2026-03-15' })))
  expect(one).not.toBe(other)
})
