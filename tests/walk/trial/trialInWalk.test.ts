import { appendFile, cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { walkSheet } from '../../../src/sheet/acceptance/walkSheet.js'
import { readPictures } from '../../../src/sheet/pictures/readPictures.js'
import { verifySheet } from '../../../src/sheet/verify/verifySheet.js'
import { currentResults } from '../../../src/walk/measure/currentResults.js'
import { differingFields } from '../../../src/walk/measure/differingFields.js'
import { judgeAgain } from '../../../src/walk/measure/judgeAgain.js'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { planMeasuring } from '../../../src/walk/measure/planMeasuring.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import type { WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import { resultsText } from '../../../src/walk/schemas/resultsText.js'
import { verifyFiles } from '../../../src/walk/site/verifyFiles.js'
import { expectPackOf, packTrial, readPack } from '../../../src/walk/trial/packTrial.js'
import { readReadings } from '../../../src/walk/trial/readReadings.js'
import { trialCrops, type TrialCrop } from '../../../src/walk/trial/trialCrops.js'
import { mergePack, walkTrial, writePack } from '../../../src/walk/trial/walkTrial.js'
import { simulatedReadings } from '../../../src/simulate/demo/simulatedReadings.js'
import { makeTrialWalk, type TrialWalk } from '../../support/trialWalk.js'

const READERS = [
  { name: 'Anna', halfM: 12 },
  { name: 'Ben', halfM: 13 },
  { name: 'Cleo', halfM: 12.5 },
]
let home: string
let pattern: string
let made: TrialWalk
let dir: string
let results: WalkResults
let crops: readonly TrialCrop[]
let copies = 0

beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), 'proofwalk-trial-'))
  pattern = join(home, 'walk')
  made = await makeTrialWalk(pattern, [6, 10, 14, 18], 2)
  results = await measureWalk(await readWalk(pattern), { scene: false })
  crops = (await trialCrops(await readWalk(pattern), results)).crops
}, 240_000)
afterAll(() => rm(home, { recursive: true, force: true }))
beforeEach(async () => {
  dir = join(home, `copy ${copies++}`)
  await cp(pattern, dir, { recursive: true })
})

const distanceOf = (file: string): number => results.stills.find((still) => still.file === file)!.distance!
/** Scored anew: no still is decoded for that. */
const scored = async (): Promise<WalkResults> => {
  const walk = await readWalk(dir)
  return judgeAgain(walk, await planMeasuring(walk), results)
}
const measured = async (): Promise<WalkResults> => measureWalk(await readWalk(dir), { scene: false })
const readByAll = (): Promise<void> =>
  writeFile(join(dir, 'readings.json'), JSON.stringify(simulatedReadings(crops, distanceOf, READERS)))

test('cuts out both rows of every still, each with what its own card says', () => {
  expect(results.stills).toHaveLength(8)
  expect(crops).toHaveLength(16)
  for (const { file, row, shown } of crops) expect(shown).toBe(made.shown.get(file)![row as 'full' | 'faint'])
})

test('gives no crop anything beside its pixels', () => {
  for (const { png, file, shown } of crops) {
    const chunks = [
      ...png.toString('latin1').matchAll(/(IHDR|PLTE|IDAT|IEND|tEXt|iTXt|zTXt|eXIf|tIME|pHYs|iCCP)/g),
    ]
    expect(
      [...new Set(chunks.map(([, name]) => name))].filter((name) => /[Tt][Ee]?X|XIf|IME/.test(name!)),
    ).toEqual([])
    for (const leak of [file, shown, 'stills', 'card ']) expect(png.includes(leak)).toBe(false)
  }
})

test('scores what was read, the same when judged again and from the files alone', async () => {
  await readByAll()
  const read = await measured()
  const full = read.readings.find(({ row }) => row === 'full')!
  expect(full.marks.map(({ distance, asked }) => [distance, asked])).toEqual(
    [6, 10, 14, 18].map((d) => [d, 42]),
  )
  expect(full.marks[0]!.share).toBeGreaterThan(0.93)
  expect(full.marks[3]!.share).toBeLessThan(0.3)
  const { distance, low, high } = full.read50!
  expect(low < 12.5 && 12.5 < high && distance > 11 && distance < 14).toBe(true)
  expect(read.readings.find(({ row }) => row === 'faint')!.read50!.distance).toBeLessThan(distance)
  expect(read.inputs.readings).toMatch(/^[0-9a-f]{64}$/)
  const walk = await readWalk(dir)
  expect(differingFields(read, await judgeAgain(walk, await planMeasuring(walk), read))).toEqual([])
  await writeFile(join(dir, 'results.json'), resultsText(read))
  expect((await currentResults(walk)).results).not.toBeNull()
  expect((await verifyFiles(dir)).checks.filter(({ matches }) => matches === false)).toEqual([])
  // One answer put right by hand is told, by every way in.
  const text = await readFile(join(dir, 'readings.json'), 'utf8')
  await writeFile(join(dir, 'readings.json'), text.replace('"seconds":3', '"seconds":4'))
  expect(await currentResults(walk)).toMatchObject({
    results: null,
    why: expect.stringContaining('readings.json'),
  })
  expect((await verifyFiles(dir)).checks.find(({ what }) => what === 'readings.json')).toMatchObject({
    matches: false,
  })
})

test('counts no answer about a still that has changed since, and asks it anew', async () => {
  await readByAll()
  const file = 'stills/day/10m-1.png'
  await appendFile(join(dir, file), Buffer.alloc(1))
  const walk = await readWalk(dir)
  const read = await measured()
  const at10 = read.readings.map(({ marks }) => marks.find(({ distance }) => distance === 10)!.asked)
  expect(at10).toEqual([21, 21])
  await expect(trialCrops(walk, results)).resolves.toMatchObject({ left: [expect.stringContaining(file)] })
  const anew = await trialCrops(walk, read)
  const source = await walkTrial(dir, anew.crops)
  const asked = source.answers().filter(({ reader, again }) => reader === 'Anna' && !again)
  expect([anew.crops.length, asked.length]).toEqual([16, 14])
})

test('is carried away without what it says, and comes back once', async () => {
  const source = await walkTrial(dir, crops)
  const file = join(home, `pack ${copies}.json`)
  await writePack(file, source)
  const text = await readFile(file, 'utf8')
  for (const { shown, file: still } of crops) expect(text.includes(shown) || text.includes(still)).toBe(false)
  const away = packTrial(file, await readPack(file))
  const how = { seconds: 2, practice: false, again: false, zoom: 4, brightness: 1 }
  for (const { id, shown } of crops)
    await away.keep({ reader: 'Eva', crop: id, answered: shown, ...how }, null)
  const back = await readPack(file)
  expectPackOf(file, back, source)
  expect(await mergePack(source, back)).toEqual({ taken: 16, known: 0, contrary: 0 })
  expect(await mergePack(source, back)).toEqual({ taken: 0, known: 16, contrary: 0 })
  const other = { ...back, answers: back.answers.map((one) => ({ ...one, answered: null })) }
  expect(await mergePack(source, other)).toEqual({ taken: 0, known: 0, contrary: 16 })
  expect((await readReadings(dir))!.answers).toHaveLength(16)
  const read = await scored()
  expect(read.readings.every(({ marks }) => marks.every(({ share }) => share === 1))).toBe(true)
  expect(read.findings.map(({ code }) => code)).toContain('reading-distance-unknown')
})

test('refuses a pack that was altered, or is of another walk', async () => {
  const source = await walkTrial(dir, crops)
  const file = join(home, `altered ${copies}.json`)
  await writePack(file, source)
  const pack = await readPack(file)
  const [first, second] = pack.crops
  const swapped = { ...pack, crops: [{ ...first!, png: second!.png }, ...pack.crops.slice(1)] }
  expect(() => packTrial(file, swapped)).toThrow(/not those of this walk/)
  expect(() => expectPackOf(file, swapped, source)).toThrow(/not those of this walk/)
  expect(() => expectPackOf(file, { ...pack, seed: pack.seed + 1 }, source)).toThrow(/not those of this walk/)
  await writeFile(file, 'not one')
  await expect(readPack(file)).rejects.toThrow(/not the file of a reading trial/)
})

test('says whose answers are few or none, and why no distance is told', async () => {
  const all = simulatedReadings(crops, distanceOf, READERS)
  const answers = all.answers
    .filter(({ reader }, index) => reader !== 'Cleo' || index % 2 === 0)
    .map((one) => (one.reader === 'Ben' ? { ...one, answered: null } : one))
  await writeFile(join(dir, 'readings.json'), JSON.stringify({ ...all, answers }))
  const messages = (await scored()).findings.map(({ message }) => message).join('\n')
  expect(messages).toMatch(/Ben answered "cannot tell" to every crop/)
  expect(messages).toMatch(/Cleo has read \d+ of the 8 crops/)
  const one = { ...all, answers: all.answers.filter(({ reader }) => reader === 'Anna') }
  await writeFile(join(dir, 'readings.json'), JSON.stringify(one))
  const alone = await scored()
  expect(alone.readings.every(({ read95 }) => read95 === null)).toBe(true)
  expect(alone.findings.map(({ message }) => message).join('\n')).toMatch(/one reader alone/)
  await writeFile(join(dir, 'readings.json'), '{}')
  await expect(scored()).rejects.toThrow(/not the readings\.json of a reading trial/)
})

test('shows no card whose code is none of cards.json, and says what is wrong with cards.json', async () => {
  const cards = JSON.parse(await readFile(join(dir, 'cards.json'), 'utf8')) as { cards: { number: number }[] }
  const file = join(dir, 'cards.json')
  const walk = await readWalk(dir)
  await writeFile(file, JSON.stringify({ ...cards, cards: cards.cards.slice(1) }))
  const { left, crops: rest } = await trialCrops(walk, results)
  const ofFirst = [...made.shown]
    .filter(([, card]) => card.number === 1)
    .map(([path]) => path)
    .sort()
  expect(left).toEqual(ofFirst.map((path) => expect.stringContaining(path)))
  expect(rest).toHaveLength(16 - 2 * ofFirst.length)
  await writeFile(file, JSON.stringify({ ...cards, paper: 'A1' }))
  await expect(trialCrops(walk, results)).rejects.toThrow(/cards of A1/)
  await writeFile(
    file,
    JSON.stringify({ ...cards, cards: [{ number: 1, full: 'OOOOOOO', faint: 'ACEFHJK' }] }),
  )
  await expect(trialCrops(walk, results)).rejects.toThrow(/is not what/)
  await rm(file)
  await expect(trialCrops(walk, results)).rejects.toThrow(/is not there/)
})

describe('promises that text is read', () => {
  const promise = async (...lines: readonly string[]): Promise<void> => {
    const text = await readFile(join(dir, 'walk.yaml'), 'utf8')
    const promises = lines.map((line) => `  - { ${line}, light: day }\n`).join('')
    await writeFile(join(dir, 'walk.yaml'), `${text}promises:\n${promises}`)
  }

  test('are judged by what was read, again from the files, and printed on the sheet as they are', async () => {
    await promise('task: read a plate, read: 90 %, grade: recognise, at: 6 m', 'read: 95 %, at: 18 m')
    await readByAll()
    const read = await scored()
    const [near, far] = read.promises as [Promised, Promised]
    expect(near).toMatchObject({
      kind: 'read',
      grade: null,
      basis: 'reading',
      limit: 0.9,
      byPixels: 'met',
      decidedBy: 'card',
      task: 'read a plate',
    })
    expect(near.onOtherBasis!.value).toBeGreaterThan(400)
    expect(near.why).toContain('Recognise there, which explains it: met by pixels')
    expect(far).toMatchObject({ kind: 'read', limit: 0.95, verdict: 'not met', byPixels: 'not shown' })
    expect(far.high).toBeLessThan(0.5)
    const { reached, read95 } = read.readings.find(({ row }) => row === 'full')!
    expect(reached!.density!.value).toBeCloseTo(2600 / read95!.distance, -1)
    const walk = await readWalk(dir)
    expect(differingFields(read, await judgeAgain(walk, await planMeasuring(walk), read))).toEqual([])
    await writeFile(join(dir, 'results.json'), resultsText(read))
    const sheet = await walkSheet(walk, read, { paper: 'A4', maskPlates: false })
    const { checks } = await verifySheet(sheet, 'sheet.pdf')
    expect(checks.filter(({ matches }) => matches === false)).toEqual([])
    // A verdict written in by hand is believed nowhere.
    const forged = { ...read, promises: [near, { ...far, verdict: 'met' as const }] }
    await writeFile(join(dir, 'results.json'), resultsText(forged))
    expect(await currentResults(walk)).toMatchObject({ results: null })
    const wrong = (await verifyFiles(dir)).checks.filter(({ matches }) => matches === false)
    expect(wrong.map(({ message }) => message).join()).toMatch(/promises\[1\]\.verdict/)
  })

  test('are not shown without readers, and say what would show them', async () => {
    await promise('read: 95 %, at: 10 m')
    const [without] = (await scored()).promises
    expect(without).toMatchObject({ verdict: 'not shown', value: null })
    expect(without!.mend).toMatch(/carry letter cards at 10 m and farther out, then "proofwalk read"/)
  })

  test('refuse what nobody can be held to', async () => {
    for (const [written, why] of [
      ['read: 95', /95/],
      ['read: 100 %', /from 50 to 97/],
      ['read: 20 %', /from 50 to 97/],
    ] as const) {
      const text = await readFile(join(pattern, 'walk.yaml'), 'utf8')
      await writeFile(join(dir, 'walk.yaml'), `${text}promises:\n  - { ${written}, at: 6 m, light: day }\n`)
      await expect(readWalk(dir)).rejects.toThrow(why)
    }
  })

  test('hide on a masked sheet what was read', async () => {
    await readByAll()
    const read = await scored()
    const walk = await readWalk(dir)
    const images = async (how: { maskPlates: boolean; maskPeople?: boolean }) =>
      (await readPictures(walk, read, how)).map(({ image }) => image)
    expect((await images({ maskPlates: false })).every((image) => image !== null)).toBe(true)
    expect((await images({ maskPlates: true })).every((image) => image === null)).toBe(true)
    expect((await readPictures(walk, read, { maskPlates: false })).map(({ shown }) => shown).sort()).toEqual(
      (['full', 'faint'] as const)
        .flatMap((row) => [6, 10, 14, 18].map((mark) => made.shown.get(`stills/day/${mark}m-1.png`)![row]))
        .sort(),
    )
  })
})

type Promised = WalkResults['promises'][number]

test('counts the first answer of two to one showing, whichever browser it came from', async () => {
  const all = simulatedReadings(crops, distanceOf, READERS)
  // Another browser answered the same showings too.
  const twice = [...all.answers, ...all.answers.map((one) => ({ ...one, answered: null }))]
  await writeFile(join(dir, 'readings.json'), JSON.stringify(all))
  const once = await scored()
  await writeFile(join(dir, 'readings.json'), JSON.stringify({ ...all, answers: twice }))
  expect((await scored()).readings).toEqual(once.readings)
})

test('says of one mark alone, and of all read right, why no distance is known', async () => {
  const all = simulatedReadings(crops, distanceOf, READERS)
  const why = async (answers: typeof all.answers): Promise<string> => {
    await writeFile(join(dir, 'readings.json'), JSON.stringify({ ...all, answers }))
    return (await scored()).findings.map(({ message }) => message).join('\n')
  }
  expect(await why(all.answers.filter(({ file }) => distanceOf(file) === 6))).toMatch(
    /read at one mark alone/,
  )
  expect(await why(all.answers.map((one) => ({ ...one, answered: one.shown })))).toMatch(
    /the farthest mark, so where it fails is not known/,
  )
})

test('says where readers agree on what is not there: cards mixed up', async () => {
  const all = simulatedReadings(crops, distanceOf, READERS)
  const codes = async (): Promise<string[]> => (await scored()).findings.map(({ code }) => code)
  await writeFile(join(dir, 'readings.json'), JSON.stringify(all))
  expect(await codes()).not.toContain('cards-mixed-up')
  // Every card says what another one does.
  const texts = [...new Set(all.answers.map(({ shown }) => shown))]
  const other = (shown: string): string => texts[(texts.indexOf(shown) + 2) % texts.length]!
  const answers = all.answers.map((one) => ({ ...one, shown: other(one.shown) }))
  await writeFile(join(dir, 'readings.json'), JSON.stringify({ ...all, answers }))
  expect(await codes()).toContain('cards-mixed-up')
})
