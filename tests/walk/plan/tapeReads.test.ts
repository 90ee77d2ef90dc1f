import { expect, it } from 'vitest'
import { planTable } from '../../../src/cli/folders/planTable.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import { planWalk } from '../../../src/walk/plan/planWalk.js'
import { FULL_WALK } from '../walkText.js'

async function planned(begins: string): Promise<string> {
  const text = FULL_WALK.replace('tolerance: 0.05 m }', `tolerance: 0.05 m, begins: ${begins} }`)
  const walk = await parseWalk(text, { file: 'walk.yaml', dir: '.', sha256: '' })
  return planTable(walk, planWalk(walk))
}

it('a plan counts from the lens and says how a tape reads that begins elsewhere', async () => {
  const table = await planned('0.5 m')
  expect(table).toContain(
    'all distances count from the lens. The tape measure starts 0.5 m in front of it and reads 0.5 m less. Write marks and name stills as it reads',
  )
  expect(table).toMatch(/^ +4\.5 m /m)
  expect(table, 'promised from the lens').toMatch(/^ +16 m .*promised: Recognise/m)
  expect(table, 'to be written as the tape reads').toMatch(/not among the walk's marks yet: .*15\.5 m/)
  expect(await planned('-0.5 m')).toContain('starts 0.5 m behind it and reads 0.5 m more')
  expect(await planned('0 m')).not.toContain('count from the lens')
})
