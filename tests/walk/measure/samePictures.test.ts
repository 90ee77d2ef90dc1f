import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { measureWalk, readWalk, type WalkResults } from '../../../src/index.js'
import { differingFields } from '../../../src/walk/measure/differingFields.js'
import { judgeAgain } from '../../../src/walk/measure/judgeAgain.js'
import { planMeasuring } from '../../../src/walk/measure/planMeasuring.js'
import { boardCorners, boardStill, put, putPicks, smallWalkYaml } from '../../journeys/smallWalk.js'
import { temporaryWalk } from '../temporaryWalk.js'

/** A still of the small walk: the mark whose picture it holds, and whether it is written anew as another file of the same pixels. */
interface Shown {
  readonly file: string
  readonly of: 4 | 6 | 9
  readonly as?: 'webp' | 'tiff'
  /** Encoded again as JPEG of this quality; cut out of it, px. */
  readonly quality?: number
  readonly cut?: {
    readonly left: number
    readonly top: number
    readonly width: number
    readonly height: number
  }
}

/** The small walk with these stills, each with corners of the mark its picture was taken at; what walk.yaml says of them at its end. */
async function walkOf(stills: readonly Shown[], more = ''): Promise<string> {
  const yaml = smallWalkYaml(more).replace('lights: [day]', 'lights: [day, dark]')
  const dir = await temporaryWalk({ 'walk.yaml': yaml })
  for (const { file, of, as, quality, cut } of stills) {
    const png = await boardStill(of, 'png', of)
    const seen = cut === undefined ? png : await sharp(png).extract(cut).png().toBuffer()
    const bytes =
      as === undefined
        ? quality === undefined
          ? seen
          : await sharp(seen).jpeg({ quality }).toBuffer()
        : as === 'webp'
          ? await sharp(png).webp({ lossless: true }).toBuffer()
          : await sharp(png).tiff({ compression: 'lzw' }).toBuffer()
    await put(dir, file, bytes)
  }
  await putPicks(
    dir,
    stills.map(({ file, of, cut }) => ({
      file,
      corners: boardCorners(of).map(([x, y]): [number, number] => [
        x - (cut?.left ?? 0),
        y - (cut?.top ?? 0),
      ]),
    })),
  )
  return dir
}

async function measured(stills: readonly Shown[], more = ''): Promise<WalkResults> {
  const walk = await readWalk(await walkOf(stills, more))
  const results = await measureWalk(walk, { workers: 1, scene: false })
  // Whatever is the same picture is so again without a look at the pixels.
  expect(differingFields(results, await judgeAgain(walk, await planMeasuring(walk), results))).toEqual([])
  return results
}

const THREE: readonly Shown[] = [4, 6, 9].map((of) => ({ file: `stills/day/${of}m.png`, of: of as 4 }))
const marksOf = ({ marks }: WalkResults): [number, number][] =>
  marks.map(({ distance, stills }) => [distance, stills])
const sameOf = ({ stills }: WalkResults): [string, string | null][] =>
  stills.map(({ file, sameAs }) => [
    file.replace('stills/day/', ''),
    sameAs?.replace('stills/day/', '') ?? null,
  ])
const codesOf = ({ stills }: WalkResults): string[][] =>
  stills.map(({ problems }) => problems.map(({ code }) => code).filter((code) => code === 'same-picture'))

describe('one picture under several names', () => {
  test.each([
    ['of equal bytes', {}],
    ['of equal pixels in another file', { as: 'webp' }],
    ['of equal pixels in a third', { as: 'tiff' }],
  ] as const)('%s at one mark counts once', async (_, as) => {
    const alone = await measured(THREE)
    const twice = await measured([...THREE, { file: 'stills/day/9m b.png', of: 9, ...as }])
    expect(marksOf(twice)).toEqual([
      [4, 1],
      [6, 1],
      [9, 1],
    ])
    expect([twice.marks, twice.ranges, twice.promises]).toEqual([alone.marks, alone.ranges, alone.promises])
    expect(sameOf(twice)).toEqual([
      ['4m.png', null],
      ['6m.png', null],
      ['9m b.png', null],
      ['9m.png', '9m b.png'],
    ])
    expect(codesOf(twice)).toEqual([[], [], [], ['same-picture']])
    expect(twice.findings.map(({ code }) => code)).not.toContain('same-picture')
  })

  test('two exposures of one mark are two', async () => {
    const dir = await walkOf(THREE)
    await put(dir, 'stills/day/9m b.png', await boardStill(9, 'png', 77))
    await putPicks(
      dir,
      [...THREE, { file: 'stills/day/9m b.png', of: 9 as const }].map(({ file, of }) => ({
        file,
        corners: boardCorners(of),
      })),
    )
    const results = await measureWalk(await readWalk(dir), { workers: 1, scene: false })
    expect(marksOf(results)).toEqual([
      [4, 1],
      [6, 1],
      [9, 2],
    ])
    expect(codesOf(results).flat()).toEqual([])
  })
})

describe('one picture under two marks', () => {
  const AGAIN: readonly Shown[] = [...THREE, { file: 'stills/day/12m.png', of: 9, as: 'webp' }]

  test('counts at neither, and both files are named', async () => {
    const results = await measured(AGAIN)
    expect(marksOf(results)).toEqual([
      [4, 1],
      [6, 1],
    ])
    expect(sameOf(results)).toEqual([
      ['12m.png', '9m.png'],
      ['4m.png', null],
      ['6m.png', null],
      ['9m.png', '12m.png'],
    ])
    expect(codesOf(results)).toEqual([['same-picture'], [], [], ['same-picture']])
    const [finding, ...others] = results.findings.filter(({ code }) => code === 'same-picture')
    expect(finding?.message).toMatch(
      /^stills\/day\/12m\.png \(12 m, day\) and stills\/day\/9m\.png \(9 m, day\) are one picture/,
    )
    expect(others).toEqual([])
    // The copy at 12 m would have shown 133 px/m there.
    expect(results.promises[0]?.verdict).not.toBe('not met')
  })

  test.each([
    [
      'sameAs',
      'sameAs: stills/day/9m.png',
      [
        [4, 1],
        [6, 1],
        [9, 1],
      ],
    ],
    [
      'distinct',
      'distinct: yes',
      [
        [4, 1],
        [6, 1],
        [9, 1],
        [12, 1],
      ],
    ],
  ])('%s in walk.yaml settles it', async (_, said, marks) => {
    const results = await measured(
      AGAIN,
      `stills:\n  - { file: stills/day/12m.png, mark: 12 m, light: day, ${said} }\n`,
    )
    expect(marksOf(results)).toEqual(marks)
    expect(codesOf(results).flat()).toEqual([])
    for (const code of ['same-picture', 'copy-unlike'])
      expect(results.findings.map((finding) => finding.code)).not.toContain(code)
  })

  test('a still left out as a copy that its pixels do not show is told', async () => {
    const results = await measured(
      THREE,
      `stills:\n  - { file: stills/day/9m.png, mark: 9 m, light: day, sameAs: stills/day/6m.png }\n`,
    )
    expect(marksOf(results)).toEqual([
      [4, 1],
      [6, 1],
    ])
    const told = expect.objectContaining({
      code: 'copy-unlike',
      message: expect.stringContaining('although its pixels do not show that'),
    })
    expect(results.findings).toContainEqual(told)
    expect(results.stills.find(({ file }) => file === 'stills/day/9m.png')?.problems).toContainEqual(told)
  })

  test('sameAs in a circle leaves one, of a still that is not there it says nothing, of itself it is refused', async () => {
    const circle = `stills:\n  - { file: stills/day/12m.png, mark: 12 m, light: day, sameAs: stills/day/9m.png }\n  - { file: stills/day/9m.png, mark: 9 m, light: day, sameAs: stills/day/12m.png }\n`
    expect(marksOf(await measured(AGAIN, circle))).toEqual([
      [4, 1],
      [6, 1],
      [12, 1],
    ])
    const gone = `stills:\n  - { file: stills/day/6m.png, mark: 6 m, light: day, sameAs: stills/day/5m.png }\n`
    const results = await measured(THREE, gone)
    expect(marksOf(results)).toEqual([
      [4, 1],
      [6, 1],
      [9, 1],
    ])
    const self = `stills:\n  - { file: stills/day/6m.png, mark: 6 m, light: day, sameAs: stills/day/6m.png }\n`
    await expect(walkOf(THREE, self).then(readWalk)).rejects.toThrow(
      /stills\[0\]\.sameAs.*is the still itself/,
    )
  })
})

describe('one picture encoded again, or cut out of another', () => {
  const AGAIN: Shown = { file: 'stills/day/9m b.jpg', of: 9, quality: 95 }

  test('at one mark may be the same picture, counts once, and distinct says that it is none', async () => {
    const [alone, twice] = [await measured(THREE), await measured([...THREE, AGAIN])]
    expect(sameOf(twice).filter(([, same]) => same !== null)).toEqual([['9m.png', '9m b.jpg']])
    expect(marksOf(twice)).toEqual(marksOf(alone))
    const { problems } = twice.stills.find(({ sameAs }) => sameAs !== null)!
    expect(problems.find(({ code }) => code === 'same-picture')?.message).toMatch(
      /^may be the same picture as stills\/day\/9m b\.jpg, /,
    )
    expect(twice.findings.map(({ code }) => code)).not.toContain('same-picture')
    const said = await measured(
      [...THREE, AGAIN],
      'stills:\n  - { file: stills/day/9m b.jpg, mark: 9 m, light: day, distinct: yes }\n',
    )
    expect(marksOf(said).at(-1)).toEqual([9, 2])
  })

  test('under two marks counts at neither, and both are named', async () => {
    const results = await measured([...THREE, { ...AGAIN, file: 'stills/day/12m.jpg' }])
    expect(marksOf(results)).toEqual([
      [4, 1],
      [6, 1],
    ])
    expect(results.findings.find(({ code }) => code === 'same-picture')?.message).toMatch(
      /^stills\/day\/12m\.jpg \(12 m, day\) and stills\/day\/9m\.png \(9 m, day\) may be one picture: none of them counts/,
    )
  })

  test('a cut-out never stands for the whole picture', async () => {
    const cut = { left: 101, top: 37, width: 1100, height: 640 }
    const results = await measured([...THREE, { ...AGAIN, cut }])
    expect(sameOf(results).filter(([, same]) => same !== null)).toEqual([['9m b.jpg', '9m.png']])
    expect(marksOf(results).at(-1)).toEqual([9, 1])
  })

  test('without a third still of the light nothing is claimed', async () => {
    const results = await measured([THREE[2]!, AGAIN])
    expect(codesOf(results).flat()).toEqual([])
  })
})

describe('one picture under several names proves nothing', () => {
  test('as three marks it tells no lens and no range, and its promise is not shown (it was met, its lens 5675 to 27078 px per radian)', async () => {
    const one = await measured(
      [9, 10, 12].map((mark) => ({ file: `stills/day/${mark}m.png`, of: 9 as const })),
    )
    expect([one.marks, one.lens, one.ranges]).toEqual([[], [], []])
    expect(one.promises[0]).toMatchObject({ verdict: 'not shown', byPixels: 'not shown', value: null })
  })

  test('copied to another light it does not meet the promise of that light', async () => {
    const inDark = '  - { grade: observe, at: 9 m, light: dark }\n'
    const { promises, marks } = await measured([...THREE, { file: 'stills/dark/9m.png', of: 9 }], inDark)
    expect(promises[1]).toMatchObject({ light: 'dark', verdict: 'not shown', byPixels: 'not shown' })
    expect(marks.map(({ light, distance }) => [light, distance])).toEqual([
      ['day', 4],
      ['day', 6],
    ])
  })

  test('19 copies at one mark are one still', async () => {
    const copies = Array.from({ length: 19 }, (_, i) => ({ file: `stills/day/9m ${i}.png`, of: 9 as const }))
    const [alone, many] = [await measured(THREE), await measured([...THREE.slice(0, 2), ...copies])]
    expect(marksOf(many)).toEqual(marksOf(alone))
    expect([many.lens, many.promises]).toEqual([alone.lens, alone.promises])
    expect(sameOf(many).filter(([, same]) => same === null).length).toBe(3)
  })
})
