import { expect, test } from 'vitest'
import type { FoundStills } from '../../../src/walk/stills/findStills.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import { planStills } from '../../../src/walk/stills/planStills.js'
import type { Picks, StillPick } from '../../../src/walk/read/readPicks.js'
import { SHORT_WALK } from '../walkText.js'

const walk = await parseWalk(SHORT_WALK, { file: 'walk.yaml', dir: '.', sha256: '' })

const PICK: StillPick = {
  reference: 'plate',
  sha256: 'a',
  pick: {
    kind: 'corners',
    method: 'hand',
    sigmaPx: 0.5,
    corners: [
      [1, 1],
      [9, 1],
      [9, 5],
      [1, 5],
    ],
  },
}

function picksOf(...files: string[]): Picks {
  return { sha256: null, byFile: new Map(files.map((file) => [file, [PICK]])) }
}

function found(assigned: string[], unassigned: string[] = []): FoundStills {
  return {
    assigned: assigned.map((file) => ({
      file,
      lightId: 'day',
      distanceM: 6,
      referenceName: null,
      problems: [],
    })),
    unassigned: unassigned.map((file) => ({ file, code: 'no-distance', message: 'rename it' })),
  }
}

test('a still with corners is planned with its reference, distance and the hash it was clicked on', () => {
  const { planned, failed } = planStills(walk, found(['stills/day/6m.jpg']), picksOf('stills/day/6m.jpg'))
  expect(failed).toEqual([])
  const { task } = planned[0]!
  expect([planned.length, task.file, task.distanceM]).toEqual([1, 'stills/day/6m.jpg', 6])
  expect(task.subject).toMatchObject({ kind: 'picked', reference: { name: 'plate' }, pickedSha256: 'a' })
})

test('a still without corners and corners without a still are told, each with its code', () => {
  const plan = planStills(walk, found(['stills/day/6m.jpg']), picksOf('stills/day/7m.jpg'))
  expect(plan.planned).toEqual([])
  expect(plan.unpicked.map(({ file, reference }) => [file, reference.name])).toEqual([
    ['stills/day/6m.jpg', 'plate'],
  ])
  expect(plan.failed.map(({ file, code }) => [file, code])).toEqual([
    ['stills/day/7m.jpg', 'pick-without-still'],
  ])
})

test('without corners the chart is looked for, unless walk.yaml names another reference', async () => {
  const text = SHORT_WALK.replace('plate-eu }', 'plate-eu }, chart: { chart: A2 }')
  const mixed = await parseWalk(text, { file: 'walk.yaml', dir: '.', sha256: '' })
  const file = 'stills/day/6m.jpg'
  const still = { file, lightId: 'day', distanceM: 6, problems: [] }
  const subjectWith = (referenceName: string | null, picks = picksOf()) => {
    const plan = planStills(mixed, { assigned: [{ ...still, referenceName }], unassigned: [] }, picks)
    return plan.planned[0]?.task.subject ?? plan.unpicked[0]?.reference.name
  }
  for (const named of [null, 'chart'])
    expect(subjectWith(named)).toMatchObject({ kind: 'chart', charts: [{ name: 'chart' }] })
  expect(subjectWith('plate')).toBe('plate')
  expect(subjectWith(null, picksOf(file))).toMatchObject({ kind: 'picked', reference: { name: 'plate' } })
})

test('beside what was picked the chart is looked for as well, unless it was picked itself or the walk has none', async () => {
  const text = SHORT_WALK.replace('plate-eu }', 'plate-eu }, chart: { chart: A2 }')
  const mixed = await parseWalk(text, { file: 'walk.yaml', dir: '.', sha256: '' })
  const file = 'stills/day/6m.jpg'
  const subjects = (of: typeof walk, reference: string) =>
    planStills(of, found([file]), {
      sha256: null,
      byFile: new Map([[file, [{ ...PICK, reference }]]]),
    }).planned.map(({ task: { subject } }) => [subject.kind, 'beside' in subject])
  expect(subjects(mixed, 'plate')).toEqual([
    ['picked', false],
    ['chart', true],
  ])
  expect(subjects(mixed, 'chart')).toEqual([['picked', false]])
  expect(subjects(walk, 'plate')).toEqual([['picked', false]])
})

test('where the chart was carried by itself in the light, it is looked for beside a pick only at a mark that has one still', async () => {
  const text = SHORT_WALK.replace('plate-eu }', 'plate-eu }, chart: { chart: A2 }')
  const mixed = await parseWalk(text, { file: 'walk.yaml', dir: '.', sha256: '' })
  const [file, beside, alone] = ['stills/day/6m.jpg', 'stills/day/6m-b.jpg', 'stills/day/9m.jpg']
  const isSought = (assigned: readonly string[]): boolean => {
    const stills = found([...assigned]).assigned.map((still) =>
      still.file === alone ? { ...still, distanceM: 9 } : still,
    )
    const { planned } = planStills(mixed, { assigned: stills, unassigned: [] }, picksOf(file))
    return planned.some(({ task }) => task.file === file && task.subject.kind === 'chart')
  }
  expect([isSought([file, alone]), isSought([file, beside, alone])]).toEqual([true, false])
})

test('a still with a pick on each of two references is planned for both, and what walk.yaml names of them is no disagreement', async () => {
  const text = SHORT_WALK.replace('plate-eu } }', 'plate-eu }, board: { width: 600 mm, height: 400 mm } }')
  const two = await parseWalk(text, { file: 'walk.yaml', dir: '.', sha256: '' })
  const file = 'stills/day/6m.jpg'
  const picks = { sha256: null, byFile: new Map([[file, [PICK, { ...PICK, reference: 'board' }]]]) }
  const planFor = (referenceName: string | null) => {
    const still = { file, lightId: 'day', distanceM: 6, problems: [], referenceName }
    return planStills(two, { assigned: [still], unassigned: [] }, picks).planned
  }
  for (const named of [null, 'board', 'plate']) {
    const planned = planFor(named)
    expect(planned.map(({ task: { file: of, subject } }) => [of, subject])).toMatchObject([
      [file, { reference: { name: 'plate' } }],
      [file, { reference: { name: 'board' } }],
    ])
    expect(planned.flatMap(({ problems }) => problems)).toEqual([])
  }
})

test('corners of a still that is there and unassigned are not said to have no still', () => {
  const { failed } = planStills(walk, found([], ['stills/day/16.jpg']), picksOf('stills/day/16.jpg'))
  expect(failed).toEqual([])
})

test.each([
  ['NFC', 'NFD'],
  ['NFD', 'NFC'],
] as const)('a name with an accent is the same in %s on the disk and %s in picks.json', (onDisk, inPicks) => {
  const name = 'stills/day/6m-étage.jpg'
  const { planned, failed } = planStills(
    walk,
    found([name.normalize(onDisk)]),
    picksOf(name.normalize(inPicks)),
  )
  expect(planned).toHaveLength(1)
  expect(failed).toEqual([])
})
