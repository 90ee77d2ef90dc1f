import { describe, expect, test } from 'vitest'
import { faultLine, ProofwalkErrors } from '../../../src/errors.js'
import { HAND_SIGMA_PX } from '../../../src/measure/reference/pick.js'
import { parsePicks, readPicks } from '../../../src/walk/read/readPicks.js'
import { temporaryWalk } from '../temporaryWalk.js'

const sha256 = 'ab'.repeat(32)
const corners = [
  [812.5, 402],
  [1012, 404.5],
  [1011, 447],
  [812, 444],
]
const withoutPoints = { sha256, reference: 'plate', sigma: 0.5, method: 'hand' }
const sound = { ...withoutPoints, corners }
const identity = (size: number) =>
  Array.from({ length: size }, (_, row) =>
    Array.from({ length: size }, (_, column) => (row === column ? 0.01 : 0)),
  )

const file = (pick: unknown, path = 'stills/day/16m.jpg') =>
  JSON.stringify({ format: 'proofwalk-picks/1', stills: { [path]: pick } })

function linesOf(text: string): string[] {
  try {
    parsePicks(text, 'slip/picks.json')
  } catch (error) {
    if (error instanceof ProofwalkErrors) return error.faults.map(faultLine)
    throw error
  }
  return []
}

test('corners, ends, sigma and covariance are read', () => {
  const ends = [
    [1, 2],
    [3, 400.5],
  ]
  const covariance = identity(8)
  expect(parsePicks(file(sound), 'picks.json').get('stills/day/16m.jpg')?.[0]).toEqual({
    sha256,
    reference: 'plate',
    pick: { kind: 'corners', corners, sigmaPx: 0.5, method: 'hand' },
  })
  expect(
    parsePicks(file({ ...withoutPoints, ends, method: 'snapped' }), 'p').get('stills/day/16m.jpg')?.[0]?.pick,
  ).toEqual({
    kind: 'ends',
    ends,
    sigmaPx: 0.5,
    method: 'snapped',
  })
  expect(parsePicks(file({ ...sound, covariance }), 'p').get('stills/day/16m.jpg')?.[0]?.pick).toMatchObject({
    covariancePx2: covariance,
  })
})

test('a still may have a list of picks, one a reference, and what a fit doubted is kept', () => {
  const doubts = [{ code: 'outline-doubtful', corners }, { code: 'few-edges' }]
  const both = parsePicks(
    file([
      { ...sound, doubts },
      { ...sound, reference: 'board' },
    ]),
    'p',
  )
  expect(both.get('stills/day/16m.jpg')).toMatchObject([
    { reference: 'plate', pick: { doubts } },
    { reference: 'board' },
  ])
})

test('sigma, method and the reference may be left out', () => {
  expect(parsePicks(file({ sha256, corners }), 'picks.json').get('stills/day/16m.jpg')?.[0]).toEqual({
    sha256,
    reference: null,
    pick: { kind: 'corners', corners, sigmaPx: HAND_SIGMA_PX, method: 'hand' },
  })
})

test('the points of a printed entry that were left to fill in are told as such', () => {
  const entry = '"stills/day/9m.jpg": { "corners": [[x,y],[x,y],[x,y],[x,y]] }'
  expect(linesOf(`{"format": "proofwalk-picks/1", "stills": { ${entry} } }`)).toEqual([
    expect.stringMatching(
      /: is not valid JSON: this is not a value of JSON; replace every x,y with the numbers$/,
    ),
  ])
})

test('a slip in the JSON never advises to delete what a hand made', () => {
  expect(linesOf('{"format": proofwalk}')[0]).not.toMatch(/delete|pick again/)
})

test('a walk without picks.json has no picks, and one with it has its hash', async () => {
  expect(await readPicks(await temporaryWalk({}))).toEqual({ sha256: null, byFile: new Map() })
  const picks = await readPicks(
    await temporaryWalk({ 'picks.json': '{"format":"proofwalk-picks/1","stills":{}}' }),
  )
  expect(picks.sha256).toMatch(/^[0-9a-f]{64}$/)
  expect(picks.byFile.size).toBe(0)
})

describe('a faulty pick says file, field and mend in one line', () => {
  const field = 'slip/picks.json: stills["stills/day/16m.jpg"]'
  const skew = identity(8).map((row, index) => (index === 0 ? [0.01, 0.005, ...row.slice(2)] : row))
  const negative = identity(8).map((row, index) =>
    index < 2 ? [index === 0 ? 0.01 : 0.02, index === 0 ? 0.02 : 0.01, ...row.slice(2)] : row,
  )
  const rows: readonly (readonly [string, string])[] = [
    [`${field}.sha256: is not a SHA-256`, file({ ...sound, sha256: 'AB' })],
    [
      `${field}.reference: is empty; write for example "reference": "plate"`,
      file({ ...sound, reference: ' ' }),
    ],
    [
      `${field}.sha256: is missing; it is the SHA-256 of the still the points were taken on, 64 hexadecimal digits`,
      file({ ...sound, sha256: undefined }),
    ],
    [`${field}.method: has no value; write for example "method": "hand"`, file({ ...sound, method: null })],
    [`${field}: has both corners and ends; keep one`, file({ ...sound, ends: corners.slice(0, 2) })],
    [`${field}: has neither corners nor ends`, file(withoutPoints)],
    [`${field}.corners: must have at least 4`, file({ ...sound, corners: corners.slice(0, 3) })],
    [
      `${field}.corners[1][0]: must be a number`,
      file({ ...sound, corners: [corners[0], ['x', 1], corners[2], corners[3]] }),
    ],
    [
      `${field}.corners[1][1]: has no value`,
      file({ ...sound, corners: [corners[0], [1, Number.NaN], corners[2], corners[3]] }),
    ],
    [`${field}.sigma: must be above 0`, file({ ...sound, sigma: 0 })],
    [
      `${field}.method: "guessed" is not understood; use one of "hand", "snapped"`,
      file({ ...sound, method: 'guessed' }),
    ],
    [`${field}.method: "found" is not understood`, file({ ...sound, method: 'found' })],
    [`${field}.corner: is not a known key; did you mean corners?`, file({ ...sound, corner: 1 })],
    [`${field}.covariance: must be 8 rows of 8`, file({ ...sound, covariance: identity(4) })],
    [`${field}.covariance: is not symmetric`, file({ ...sound, covariance: skew })],
    [`${field}.covariance: is not a covariance`, file({ ...sound, covariance: negative })],
    [`${field}.method: "hnad" is not understood; did you mean "hand"?`, file({ ...sound, method: 'hnad' })],
    [
      `${field}[1].reference: "plate" is picked twice on this still; keep one`,
      file([sound, { ...sound, sigma: 1 }]),
    ],
    [
      `${field}[1].reference: is missing beside other picks; name the reference of each`,
      file([sound, { sha256, corners }]),
    ],
    [`${field}: is an empty list`, file([])],
    [`${field}[1].corner: is not a known key`, file([sound, { ...sound, reference: 'board', corner: 1 }])],
    ['slip/picks.json: stills["../16m.jpg"]: leaves the walk\'s folder', file(sound, '../16m.jpg')],
    [
      'slip/picks.json: format: "proofwalk-picks/2" is not understood',
      '{"format":"proofwalk-picks/2","stills":{}}',
    ],
    ['slip/picks.json: format: is missing; write for example "format": "proofwalk-picks/1"', '{"stills":{}}'],
    ['slip/picks.json: stills: is missing', '{"format":"proofwalk-picks/1"}'],
    ['slip/picks.json: the whole file: must be a group of keys', '[]'],
    ['slip/picks.json: line 1, column 11: is not valid JSON: the file ends', '{"format":'],
    [
      'slip/picks.json: line 2, column 14: is not valid JSON: there is a comma too many; mind the commas',
      '{ "format": "proofwalk-picks/1",\n "stills": {},\n}',
    ],
  ]
  test.each(rows)('%s', (says, text) => {
    const lines = linesOf(text)
    expect(lines).toHaveLength(1)
    expect(lines[0]).toContain(says)
    expect(lines[0]).not.toContain('\n')
  })

  test('an empty file and one that is no text are told', async () => {
    const empty = await temporaryWalk({ 'picks.json': '' })
    await expect(readPicks(empty)).rejects.toMatchObject({ code: 'empty-file', exitStatus: 2 })
    const binary = await temporaryWalk({ 'picks.json': Uint8Array.of(0xff, 0xfe, 0x7b, 0) })
    await expect(readPicks(binary)).rejects.toMatchObject({ code: 'not-utf8', exitStatus: 2 })
  })
})
