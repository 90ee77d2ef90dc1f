import { describe, expect, it } from 'vitest'
import { ProofwalkErrors } from '../../../src/errors.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import { readGrading } from '../../../src/walk/read/readGrading.js'

function parse(plate: string) {
  const text = `site: Reed pond
date: 2026-05-02
camera: { name: Pond camera }
references:
  plate: ${plate}
marks: [4 m]
lights: [day]
`
  const findGrading = (named: Parameters<typeof readGrading>[1]) => readGrading('.', named)
  return parseWalk(text, { file: 'walk.yaml', dir: '.', sha256: '', findGrading })
}

async function borderOf(plate: string): Promise<unknown> {
  const { reference } = (await parse(plate)).references[0]!
  return reference.kind === 'rectangle' ? reference.border : 'no rectangle'
}

describe("how a plate's edge is made", () => {
  it.each([
    ['none', { kind: 'none' }],
    ['rim 3 mm', { kind: 'rim', widthM: 0.003 }],
    ['Inset 4mm', { kind: 'inset', insetM: 0.004 }],
    [
      'rim 3 mm as seen in stills/day/4m b.jpg',
      { kind: 'rim', widthM: 0.003, seenIn: 'stills/day/4m b.jpg' },
    ],
    ['none as seen in stills/4m.jpg', { kind: 'none', seenIn: 'stills/4m.jpg' }],
  ])('reads %s of a preset and of a size alike', async (border, read) => {
    expect(await borderOf(`{ preset: plate-eu, border: ${border} }`)).toEqual(read)
    const sized = `{ width: 520 mm, height: 111 mm, marking: characters, border: ${border} }`
    expect(await borderOf(sized)).toEqual(read)
  })

  it('is not told where nobody says', async () => {
    expect(await borderOf('{ preset: plate-eu }')).toBeUndefined()
  })

  it.each([
    'rim',
    'inset',
    'none 3 mm',
    'rim 3',
    'rim 0 mm',
    'rim 3 m',
    'rims 3 mm',
    '3 mm',
    'rim as seen in a.jpg',
  ])('refuses %s, and says what to write', async (border) => {
    const told = await parse(`{ preset: plate-eu, border: ${border} }`).catch((error: unknown) => error)
    expect(told).toBeInstanceOf(ProofwalkErrors)
    const [first] = (told as ProofwalkErrors).faults
    expect(first!.code).toBe('bad-value')
    expect(first!.message).toContain(
      `"${border}" is not a border of a plate: write none, rim 3 mm or inset 4 mm`,
    )
  })
})
