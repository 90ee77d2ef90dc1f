import { expect, test } from 'vitest'
import type { FoundStills } from '../../src/walk/findStills.js'
import { parseWalk } from '../../src/walk/parseWalk.js'
import { planStills } from '../../src/walk/planStills.js'
import type { Picks, StillPick } from '../../src/walk/readPicks.js'
import { SHORT_WALK } from './walkText.js'

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
  return { sha256: null, byFile: new Map(files.map((file) => [file, PICK])) }
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
    unassigned: unassigned.map((file) => ({ file, message: 'rename it' })),
  }
}

test('a still with corners is planned with its reference, distance and the hash it was clicked on', () => {
  const { planned, failed } = planStills(walk, found(['stills/day/6m.jpg']), picksOf('stills/day/6m.jpg'))
  expect(failed).toEqual([])
  expect(
    planned.map(({ task }) => [task.file, task.reference.name, task.distanceM, task.pickedSha256]),
  ).toEqual([['stills/day/6m.jpg', 'plate', 6, 'a']])
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
