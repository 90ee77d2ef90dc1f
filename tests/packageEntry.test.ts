import { expect, test } from 'vitest'
import * as entry from '../src/index.js'

test('the public entry gives exactly what it promises, so that nothing is lost or leaks unnoticed', () => {
  expect(Object.keys(entry).sort()).toEqual([
    'ProofwalkError',
    'ProofwalkErrors',
    'faultLine',
    'measureStill',
    'measureWalk',
    'openStill',
    'readWalk',
  ])
})
