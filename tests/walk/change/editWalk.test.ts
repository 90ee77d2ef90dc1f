import { describe, expect, it } from 'vitest'
import { entryVersion } from '../../../src/files/changeFile.js'
import { editedWalk, type StillChange } from '../../../src/walk/change/changeWalkStills.js'
import { withBorder } from '../../../src/walk/change/changeBorder.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import { writtenStills } from '../../../src/walk/change/writtenStills.js'
import { FULL_WALK, SHORT_WALK } from '../walkText.js'

const added = (file: string, mark: string, light = 'day', reference: string | null = null): StillChange => ({
  file,
  was: null,
  entry: { file, mark, light, reference },
})
const about = { file: 'walk.yaml', dir: '.', sha256: '' }

describe('editing the stills of a walk', () => {
  it('adds a key where there was none and touches no other letter', async () => {
    const text = editedWalk(SHORT_WALK, [added('stills/a b.jpg', '16 m')])
    expect(text).toBe(`${SHORT_WALK}stills:\n  - { file: stills/a b.jpg, mark: 16 m, light: day }\n`)
    const walk = await parseWalk(text, about)
    expect(walk.stills).toEqual([{ file: 'stills/a b.jpg', distanceM: 16, light: 'day', reference: null }])
  })

  it('adds to a list in the midst of the file, whose comments and spacing stay as they are', () => {
    const text = editedWalk(FULL_WALK, [added('stills/x.jpg', `5'6"`, 'infrared', 'board')])
    const line = `  - { file: stills/x.jpg, mark: "5'6\\"", light: infrared, reference: board }`
    const [before, after] = FULL_WALK.split('observations:')
    expect(text.replace(/ {2}- \{ file: stills\/x.*\n/, '')).toBe(`${before}observations:${after}`)
    expect(text).toContain(`reference: plate }\n`)
    expect(writtenStills(text).get('stills/x.jpg')?.mark).toBe(`5'6"`)
    expect(text.split('\n').length).toBe(FULL_WALK.split('\n').length + 1)
    expect([line, line.replace(`"5'6\\""`, `5'6"`)]).toContain(
      text.split('\n').find((one) => one.includes('x.jpg')),
    )
  })

  it('changes words where they stand and keeps the comments around and inside', () => {
    const walk = `# top
site: North slipway   # where
date: 2026-03-14

camera: { name:   "Slipway camera" }
references:
    plate: {preset: plate-eu}     # the small one
    board: { width: 600 mm, height: 400 mm }
# before the stills
stills:      # of the recorder
  # the first
  - file: ./stills/1.jpg   # by phone
    mark: 16 m
    light: day
  # the second

  - { file: 'stills/2.jpg', mark: 52 ft, light: day, reference: plate } # far
# before the lights
lights: [ day,infrared ]   # both
`
    const one = writtenStills(walk).get('stills/1.jpg')!
    const two = writtenStills(walk).get('stills/2.jpg')!
    const text = editedWalk(walk, [
      { file: 'stills/1.jpg', was: entryVersion(one), entry: { ...one, mark: '17 m', reference: 'board' } },
      { file: 'stills/2.jpg', was: entryVersion(two), entry: { ...two, reference: null } },
    ])
    const comments = (of: string) => of.match(/#.*/g)
    expect(comments(text)).toEqual(comments(walk))
    expect(writtenStills(text).get('stills/1.jpg')).toEqual({
      file: './stills/1.jpg',
      mark: '17 m',
      light: 'day',
      reference: 'board',
    })
    expect(writtenStills(text).get('stills/2.jpg')).toEqual({
      file: 'stills/2.jpg',
      mark: '52 ft',
      light: 'day',
      reference: null,
    })
    expect(text.slice(0, text.indexOf('stills:'))).toBe(walk.slice(0, walk.indexOf('stills:')))
    expect(text.slice(text.indexOf('# before the lights'))).toBe(
      walk.slice(walk.indexOf('# before the lights')),
    )
  })

  it('takes an entry out, and the key with the last one', () => {
    const added2 = editedWalk(SHORT_WALK, [added('stills/a.jpg', '16 m'), added('stills/b.jpg', '17 m')])
    const less = editedWalk(added2, [{ file: 'stills/a.jpg', was: '', entry: null }])
    expect(less).toBe(`${SHORT_WALK}stills:\n  - { file: stills/b.jpg, mark: 17 m, light: day }\n`)
    expect(editedWalk(less, [{ file: 'stills/b.jpg', was: '', entry: null }])).toBe(SHORT_WALK)
  })

  it('adds a light to the list of lights', () => {
    const text = editedWalk(FULL_WALK, [added('stills/x.jpg', '9 m', 'dusk')], ['dusk'])
    expect(text).toContain('lights: [ day, infrared, dusk ]')
    expect(
      text
        .replace('lights: [ day, infrared, dusk ]', 'lights: [day, infrared]')
        .replace(/ {2}- \{ file: stills\/x.*\n/, ''),
    ).toBe(FULL_WALK)
  })

  it('works on a walk in JSON and one with the line ends of another system', async () => {
    const json = JSON.stringify(
      {
        site: 'a',
        date: '2026-03-14',
        camera: { name: 'b' },
        references: { plate: { preset: 'plate-eu' } },
        lights: ['day'],
      },
      null,
      2,
    )
    const text = editedWalk(json, [added('stills/a.jpg', '16 m')])
    expect((await parseWalk(text, about)).stills).toHaveLength(1)
    const foreign = editedWalk(SHORT_WALK.replaceAll('\n', '\r\n'), [added('stills/a.jpg', '16 m')])
    expect(foreign.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
  })

  it('writes a file without a line end at its end', () => {
    expect(editedWalk(SHORT_WALK.trimEnd(), [added('stills/a.jpg', '16 m')])).toBe(
      `${SHORT_WALK}stills:\n  - { file: stills/a.jpg, mark: 16 m, light: day }\n`,
    )
  })
})

describe('writing how the edge of a plate is made', () => {
  const walk = `references:   # what is carried
  plate: {preset: plate-eu}     # the small one
  "old plate":
    width: 520 mm   # taped
    height: 110 mm
    marking: characters
    border: none
marks: [4 m]
`

  it('adds the key alone, comments kept', () => {
    const text = withBorder(walk, 'plate', 'rim 3 mm')!
    expect(text).toMatch(/plate: \{ ?preset: plate-eu, border: rim 3 mm ?\} +# the small one\n/)
    for (const kept of ['# what is carried', 'width: 520 mm # taped', 'marks: [4 m]\n'])
      expect(text.replace(/ +#/g, ' #')).toContain(kept)
  })

  it('leaves a plate that tells it, and one that is not there', () => {
    expect(['old plate', 'board'].map((name) => withBorder(walk, name, 'none'))).toEqual([null, null])
  })
})
