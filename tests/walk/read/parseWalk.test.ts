import { describe, expect, test } from 'vitest'
import { faultLine, ProofwalkErrors, type ProofwalkError } from '../../../src/errors.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import { FULL_WALK, SHORT_WALK } from '../walkText.js'

const about = { file: 'slip/walk.yaml', dir: 'slip', sha256: 'a'.repeat(64) }
const read = (text: string) => parseWalk(text, about)

async function faultsOf(text: string): Promise<readonly ProofwalkError[]> {
  const error: unknown = await read(text).then(
    () => new Error('the walk was read'),
    (reason: unknown) => reason,
  )
  if (error instanceof ProofwalkErrors) return error.faults
  throw error
}

/** The one fault of a text, as the line the user reads. */
async function lineOf(text: string): Promise<string> {
  const faults = await faultsOf(text)
  const lines = faults.map(faultLine)
  expect(lines).toHaveLength(1)
  expect(lines[0]).not.toContain('\n')
  return lines[0]!
}

const changed = (from: string, to: string) => {
  expect(FULL_WALK).toContain(from)
  return FULL_WALK.replace(from, to)
}

describe('a sound walk', () => {
  test('with every key comes out in metres', async () => {
    const walk = await read(FULL_WALK)
    expect(walk).toMatchObject({
      dir: 'slip',
      walkSha256: 'a'.repeat(64),
      gradingSha256: null,
      site: 'North slipway',
      date: '2026-03-14',
      people: { client: 'Harbour office', walkedBy: 'the fitter', measuredBy: 'the fitter' },
      issuer: { name: 'Slipway Security (invented)', logo: 'logo.png' },
      conditions: [{ light: 'infrared', note: 'moonless, dry', illuminance: '0.1 lx' }],
      camera: {
        name: 'Slipway camera',
        image: { width: 3840, height: 2160 },
        fieldOfViewDeg: { horizontal: 100, vertical: 52 },
        focalLengthM: 0.004,
        sensor: { kind: 'inch-type', text: '1/2.8', inches: 1 / 2.8 },
        mountHeightM: 2.6,
        tiltDeg: 12,
      },
      units: 'metric',
      judge: 'detail',
      distance: { from: 'camera', toleranceM: 0.05, beginsM: 0 },
      marksM: [4, 6, 9, 12, 16, 20],
      lights: ['day', 'infrared'],
      promises: [
        { grade: 'recognise', distanceM: 16, light: 'day' },
        { grade: 'identify', distanceM: 5, light: 'infrared', reference: 'board' },
      ],
      stills: [{ file: 'stills/export-0001.jpg', distanceM: 16, light: 'day', reference: 'plate' }],
      observations: [
        {
          distanceM: 18,
          light: 'infrared',
          triggered: true,
          by: 'recording',
          plateRead: 'no',
          faceKnown: 'no',
          note: 'from the left',
        },
      ],
    })
    expect(walk.grading.grades.map(({ limit }) => limit)).toEqual([12.5, 25, 62.5, 125, 250, 1000])
    expect(walk.references).toEqual([
      {
        name: 'plate',
        preset: 'plate-eu',
        carriedAtM: null,
        reference: {
          kind: 'rectangle',
          name: 'plate',
          widthM: 0.52,
          heightM: 0.11,
          widthToleranceM: 0.001,
          heightToleranceM: 0.001,
          marking: 'characters',
        },
      },
      {
        name: 'board',
        preset: null,
        carriedAtM: 1.1,
        reference: {
          kind: 'rectangle',
          name: 'board',
          widthM: 0.6,
          heightM: 0.4,
          widthToleranceM: 0.001,
          heightToleranceM: 0.001,
          marking: 'plain',
        },
      },
      {
        name: 'staff',
        preset: null,
        carriedAtM: null,
        reference: { kind: 'length', name: 'staff', lengthM: 2, toleranceM: 0.002 },
      },
    ])
  })

  test('keeps text as it was written where YAML would make a number of it', async () => {
    const { camera } = await read(FULL_WALK)
    expect(camera).toMatchObject({ serial: '007', settings: '12e3' })
  })

  test('keeps the names and the order of references that look like numbers', async () => {
    const walk = await read(
      SHORT_WALK.replace(
        '{ plate: { preset: plate-eu } }',
        '{ 9.0: { preset: plate-eu }, 007: { length: 1 m } }',
      ),
    )
    expect(walk.references.map(({ name }) => name)).toEqual(['9.0', '007'])
  })

  test('that is short has every default', async () => {
    expect(await read(SHORT_WALK)).toMatchObject({
      people: { client: null, walkedBy: null, measuredBy: null },
      issuer: { name: null, logo: null },
      units: 'metric',
      grading: { id: 'iec-62676-4-2014' },
      judge: 'detail',
      distance: { from: 'camera', toleranceM: 0.05, beginsM: 0 },
      marksM: [],
      promises: [],
      stills: [],
      observations: [],
      camera: { image: null, sensor: null },
    })
  })

  test('may be written as JSON', async () => {
    const walk = {
      site: 'Łódź, пристань, αποβάθρα',
      date: '2026-03-14',
      camera: { name: 'Slipway camera' },
      references: { board: { width: '2 ft', height: '1 ft 4 in' } },
      lights: ['day'],
    }
    expect((await read(JSON.stringify(walk))).site).toBe('Łódź, пристань, αποβάθρα')
  })

  test('understands recognize, ir, capitals, yes and no', async () => {
    const walk = await read(`${SHORT_WALK.replace('infrared', 'ir')}
promises: [{ grade: Recognize, at: 45 ft (13.72 m), light: IR }, { grade: identify, at: 4 m, light: Day }]
observations: [{ mark: 4 m, light: infrared, triggered: no, plateRead: true }]
`)
    expect(walk.lights).toEqual(['day', 'infrared'])
    expect(walk.promises).toEqual([
      { grade: 'recognise', distanceM: 13.716, light: 'infrared' },
      { grade: 'identify', distanceM: 4, light: 'day' },
    ])
    expect(walk.observations).toEqual([
      { distanceM: 4, light: 'infrared', triggered: false, plateRead: 'yes' },
    ])
  })

  test('makes distances within 0.01 m one, the planned one', async () => {
    const walk = await read(`${SHORT_WALK}marks: [45 ft]
promises: [{ grade: detect, at: 13.72 m, light: day }, { grade: detect, at: 13.73 m, light: day }]
`)
    expect(walk.promises.map(({ distanceM }) => distanceM)).toEqual([13.716, 13.73])
  })
})

describe('a faulty walk says file, field and mend in one line', () => {
  const rows: readonly (readonly [text: string, says: string])[] = [
    [changed('tilt: 12', 'tlit: 12'), 'camera.tlit (line 18): is not a known key; did you mean tilt?'],
    [changed('site:', 'sight:'), 'site: is missing'],
    [
      changed('at: 16 m', 'at: 16'),
      'promises[0].at (line 30): "16" has no unit; write 16 m, or 16 ft if feet are meant',
    ],
    [
      changed('width: 600 mm', 'width: 600'),
      'references.board.width (line 24): "600" has no unit; write 600 mm',
    ],
    [
      changed('focalLength: 4 mm', 'focalLength: 4'),
      'camera.focalLength (line 14): "4" has no unit; write 4 mm',
    ],
    [
      changed('focalLength: 4 mm', 'focalLength: 4 m'),
      'camera.focalLength (line 14): "4 m" is far too long to be meant; write for example 6.6 mm',
    ],
    [
      changed('pixelPitch: 2.9 um', 'pixelPitch: 2.9 mm'),
      'camera.pixelPitch (line 16): "2.9 mm" is far too long to be meant; write for example 2 um',
    ],
    [
      changed('sensor: 1/2.8', 'sensor: 5.6 x 3.1 m'),
      'camera.sensor (line 15): "5.6 x 3.1 m" is far too large for an imager; write 1/1.7, or "7.6 x 4.3 mm"',
    ],
    [changed('sensor: 1/2.8', 'sensor: 28'), 'camera.sensor (line 15): "28" is far too large for an imager'],
    [
      changed('[4 m', '[5-10 m'),
      'marks[0] (line 27): "5-10 m" is two lengths in one; write each by itself: 5 m, 10 m',
    ],
    [changed('4 m, 6 m', '4 m, 45 ft (13.8 m)'), '"45 ft" is 13.716 m and "13.8 m" is 13.8 m'],
    [changed('[4 m', '[0 m'), 'marks[0] (line 27): "0 m" is not a length'],
    [changed('[4 m', '[-4 m'), 'marks[0] (line 27): "-4 m" is negative'],
    [changed('[4 m', '[16 m'), 'marks[4] (line 27): is the same as a mark before it'],
    [
      changed('grade: recognise', 'grade: recogniz'),
      'promises[0].grade (line 30): "recogniz" is not a grade of IEC 62676-4:2014; did you mean recognise?',
    ],
    [changed('grade: recognise', 'grade: none'), 'is not a grade'],
    [
      changed('16 m, light: day }', '16 m, light: dusk }'),
      'promises[0].light (line 30): "dusk" is not one of the lights; add it to lights',
    ],
    [
      changed('reference: board', 'reference: bored'),
      'promises[1].reference (line 31): "bored" is not under references; did you mean board?',
    ],
    [changed('reference: plate }', 'reference: plaque }'), 'stills[0].reference (line 33)'],
    [
      changed('stills/export-0001.jpg', '../export-0001.jpg'),
      'stills[0].file (line 33): "../export-0001.jpg" leaves the walk',
    ],
    [changed('stills/export-0001.jpg', '/etc/passwd'), 'must start from the walk'],
    [changed('stills/export-0001.jpg', "'C:\\stills\\a.jpg'"), 'forward slashes'],
    [
      changed('logo.png', 'a/../../logo.png'),
      'issuer.logo (line 4): "a/../../logo.png" leaves the walk\'s folder',
    ],
    [changed('preset: plate-eu', 'preset: plate-ue'), '"plate-ue" is not a preset; did you mean plate-eu?'],
    [changed('preset: plate-eu', 'preset: horse'), 'list references shows them all'],
    [
      changed('{ preset: plate-eu }', 'plate-eu'),
      'references.plate (line 23): "plate-eu" is not understood; write for example plate: { preset: plate-eu }',
    ],
    [
      changed('width: 600 mm, height', 'height'),
      'references.board.width (line 24): is missing; write for example width: 600 mm',
    ],
    [changed('length: 2 m', 'length: 0 m'), 'references.staff.length'],
    [
      changed('grading: iec-62676-4-2014', 'grading: iec-62676-4-2041'),
      'grading (line 20): "iec-62676-4-2041" is not a built-in grading; did you mean',
    ],
    [
      changed('judge: detail', 'judge: details'),
      'judge (line 21): "details" is not understood; did you mean detail?',
    ],
    [
      changed('sensor: 1/2.8', 'sensor: big'),
      'camera.sensor (line 15): "big" is neither an inch type nor a size',
    ],
    [changed('width: 3840', 'width: wide'), 'camera.image.width (line 12): must be a number'],
    [changed('width: 3840', 'width: 38.4'), 'camera.image.width (line 12): must be a whole number'],
    [changed('width: 3840', 'width: 100000'), 'camera.image.width (line 12): must be below 65535, or 65535'],
    [changed('horizontal: 100, vertical: 52', ''), 'camera.fieldOfView (line 13): is empty'],
    [changed('horizontal: 100', 'horizontal: .nan'), 'camera.fieldOfView.horizontal (line 13)'],
    [changed('illuminance: 0.1 lx', 'illuminance: 0.1'), 'is not an illuminance with its unit'],
    [
      changed('2026-03-14  ', '2026-02-30  '),
      'date (line 2): "2026-02-30" is not a date of the form YYYY-MM-DD',
    ],
    [
      changed('2026-03-14  ', '"14 March; or so"  '),
      '"14 March; or so" is not a date of the form YYYY-MM-DD; write for example date: 2026-03-14',
    ],
    [
      changed('lights: [day, infrared]', 'lights: [day, infrared, ir]'),
      'lights[2] (line 28): "ir" is there twice',
    ],
    [
      changed('lights: [day, infrared]', 'lights: [day, infrared, a/b]'),
      'lights[2] (line 28): "a/b" is not a plain name',
    ],
    [
      changed('lights: [day, infrared]', 'lights: [day, infrared, ..]'),
      'lights[2] (line 28): ".." is not a plain name',
    ],
    [
      changed('triggered: true', 'triggered: perhaps'),
      'observations[0].triggered (line 35): "perhaps" is not understood',
    ],
    [
      changed("notes: wide unit on the net store's gable", 'notes:'),
      'notes (line 6): has no value; write for example notes:',
    ],
    [
      changed('length: 2 m, tolerance: 2 mm', 'chart: A9'),
      'references.staff.chart (line 25): there is no chart for paper "A9"; use one of A5, A4, A3',
    ],
    [
      changed('length: 2 m, tolerance: 2 mm', 'chart: A2, printedWidth: 594 mm'),
      "references.staff.printedWidth (line 25): is 122 % of the A2 chart's 487.2 mm, which no printer does",
    ],
    [`${FULL_WALK}site: again\n`, 'site (line 36): is there twice'],
    [`${FULL_WALK}__proto__: { site: x }\n`, '__proto__'],
    [`${FULL_WALK}---\nsite: x\n`, 'document'],
    ['[1, 2', 'is not valid YAML here'],
    ['- a\n- b\n', 'the whole file: must be a group of keys'],
    ['just words', 'the whole file: must be a group of keys'],
    [`a: ${'['.repeat(20_000)}`, 'nested'],
  ]

  test.each(rows.map(([text, says]) => [says, text] as const))('%s', async (says, text) => {
    const line = await lineOf(text.replace(/^sight:.*\n/, ''))
    expect(line).toMatch(/^slip\/walk\.yaml: /)
    expect(line).toContain(says)
  })

  test('a light that could not be read is told once, and not offered as an empty word', async () => {
    const lines = (await faultsOf(changed('lights: [day, infrared]', 'lights: [[day], {}]'))).map(faultLine)
    expect(lines.map((line) => line.split(': ')[1])).toEqual(['lights[0] (line 28)', 'lights[1] (line 28)'])
    const [one] = (await faultsOf(changed('lights: [day, infrared]', 'lights: [day, {}]'))).slice(-1)
    expect(faultLine(one!)).toContain('"infrared" is not one of the lights; add it to lights, or use day')
  })

  test('a light in no list but near a usual word is suggested', async () => {
    expect(await lineOf(changed('16 m, light: day }', '16 m, light: drak }'))).toContain('did you mean dark?')
  })

  test('a bare number gets one hint and no second one', async () => {
    const line = await lineOf(changed('width: 600 mm', 'width: 600'))
    expect(line).toMatch(/has no unit; write 600 mm$/)
    expect(await lineOf(changed('at: 16 m', 'at: 16'))).toMatch(/write 16 m, or 16 ft if feet are meant$/)
  })

  test('the longest lens and the largest imager that can be meant are taken', async () => {
    const { camera } = await read(
      changed('focalLength: 4 mm', 'focalLength: 1 m').replace('sensor: 1/2.8', 'sensor: 100 x 75 mm'),
    )
    expect(camera.focalLengthM).toBe(1)
    expect(camera.sensor).toMatchObject({ kind: 'size', widthM: 0.1 })
  })

  test('aliases made to explode are refused and not resolved', async () => {
    const levels = Array.from(
      { length: 30 },
      (_, level) => `a${level + 1}: &a${level + 1} [${`*a${level}, `.repeat(9)}]`,
    )
    expect(await lineOf(`a0: &a0 [x]\n${levels.join('\n')}\n`)).toContain('explode')
  })

  test('a key that is not there yet is suggested before one that is', async () => {
    expect(await lineOf(changed('vertical: 52', 'verticle: 52'))).toContain('did you mean vertical?')
    expect(await lineOf(`${SHORT_WALK}mark: [4 m]\n`)).toContain('did you mean marks?')
    expect(await lineOf(`${SHORT_WALK}judgement: pixels\n`)).toContain('did you mean judge?')
    expect(await lineOf(`${SHORT_WALK}light: [day]\n`)).toContain('did you mean lights?')
  })

  test('aliases in earnest are resolved, and a small explosion is refused too', async () => {
    const honest = SHORT_WALK.replace('[day, infrared]', '[&l day, infrared]')
    const walk = await read(
      `${honest}promises: [{ grade: detect, at: &d 9 m, light: *l }, { grade: observe, at: *d, light: *l }]\n`,
    )
    expect(walk.promises.map(({ distanceM, light }) => [distanceM, light])).toEqual([
      [9, 'day'],
      [9, 'day'],
    ])
    const tenfold = (name: string) => `[${`*${name}, `.repeat(10)}]`
    expect(
      await lineOf(`a: &a [x]\nb: &b ${tenfold('a')}\nc: &c ${tenfold('b')}\nd: ${tenfold('c')}\n`),
    ).toContain('explode')
  })

  test('a value of several lines or with control characters makes one plain line', async () => {
    const line = await lineOf(changed('at: 16 m', 'at: "16\\n\\e[31m m\\u202e"'))
    expect(line).toContain('promises[0].at (line 30): "16 \\u001b[31m m\\u202e" has a unit that is not known')
    const long = await lineOf(changed('at: 16 m', `at: ${'9'.repeat(50_000)} m`))
    expect(long.length).toBeLessThan(700)
  })

  test('a walk along the ground is told every height it lacks, with the mend', async () => {
    const ground = changed('from: camera', 'from: ground').replace(/ *mountHeight.*\n/, '')
    const lines = (await faultsOf(ground)).map(faultLine)
    expect(lines).toHaveLength(3)
    expect(lines[0]).toMatch(
      /camera\.mountHeight.*the height of the camera; write for example mountHeight: 2\.6 m/,
    )
    for (const name of ['plate', 'staff'])
      expect(lines.join('\n')).toMatch(
        new RegExp(`references\\.${name}\\.carriedAt.*carriedAt: 1\\.1 m with ${name}`),
      )
    const whole = changed('from: camera', 'from: ground')
      .replace('preset: plate-eu', 'preset: plate-eu, carriedAt: 0.5 m')
      .replace('tolerance: 2 mm }', 'tolerance: 2 mm, carriedAt: 1 m }')
    expect((await read(whole)).distance.from).toBe('ground')
  })

  test('all faults of one file are told at once, each once', async () => {
    const faults = await faultsOf(`site: 007
dat: 2026-03-14
camera: { nam: x, tilt: steep }
references: { plate: { preset: plate-ue }, board: { widht: 600 mm, height: 400 } }
lights: [day]
marks: [4, 6 m, 6 m]
promises: [{ grade: recognise, at: 16, light: dark, reference: horse }, { grade: see, at: 4 m, light: day }]
units: miles
grading: nothing-like-it
`)
    expect(faults.map(({ code, place }) => `${code} ${place.field?.replace(/ .*/, '')}`)).toEqual([
      'missing camera.name',
      'wrong-kind camera.tilt',
      'unknown-key camera.nam',
      'bad-value units',
      'missing references.board.width',
      'bare-number references.board.height',
      'unknown-key references.board.widht',
      'bare-number marks[0]',
      'bare-number promises[0].at',
      'unknown-key dat',
      'unknown-grading grading',
      'unknown-preset references.plate.preset',
      'duplicate-mark marks[2]',
      'unknown-light promises[0].light',
      'unknown-reference promises[0].reference',
    ])
    for (const fault of faults) {
      expect(faultLine(fault)).not.toContain('\n')
      expect(fault.place.mend, faultLine(fault)).toBeTruthy()
      expect(fault.exitStatus).toBe(2)
    }
  })
})
