import { join } from 'node:path'
import { planPdf } from '../../sheet/plan/planPdf.js'
import { walkSheet } from '../../sheet/acceptance/walkSheet.js'
import { makeDemoWalk } from '../../simulate/demo/makeDemoWalk.js'
import { planWalk } from '../../walk/plan/planWalk.js'
import { readWalk } from '../../walk/read/readWalk.js'
import { writeWhole } from '../../files/writeWhole.js'
import { demoStory } from './demoStory.js'
import { measureAndWrite } from '../measure/measureFolder.js'
import { measureTable } from '../measure/measureTable.js'
import { planTable } from './planTable.js'
import { progressLine } from '../terminal/progressLine.js'
import type { Terminal } from '../terminal/terminal.js'

/**
 * Makes the demonstration walk, plans it, measures it, writes its sheet, and tells what the eye missed. Ends with 0 once the sheet is
 * written, whatever the verdicts.
 */
export async function runDemo(dir: string, workers: number | null, terminal: Terminal): Promise<void> {
  const making = progressLine(terminal, 'SIMULATED: making still')
  const made = await makeDemoWalk(dir, {
    ...(workers === null ? {} : { workers }),
    onProgress: making.show,
  })
  making.clear()
  terminal.out(`SIMULATED: ${made.stillCount} stills of an invented place in ${dir}\n\n`)

  const walk = await readWalk(dir)
  const plan = planWalk(walk)
  const planned = join(dir, 'plan.pdf')
  await writeWhole(planned, await planPdf(walk, plan, 'A4'))
  terminal.out(`SIMULATED: the plan, as it was before the walk\n\n${planTable(walk, plan)}\n${planned}\n\n`)

  const results = await measureAndWrite(walk, { workers }, terminal)
  terminal.out(`${measureTable(results)}\n`)

  const sheet = join(dir, 'sheet.pdf')
  await writeWhole(sheet, await walkSheet(walk, results, { paper: 'A4', maskPlates: false }))

  terminal.out('SIMULATED. Seven things the eye missed:\n')
  demoStory(results, made.roles).forEach((line, index) => terminal.out(`  ${index + 1}. ${line}\n`))
  terminal.out(`\n${sheet}\nNext: proofwalk new my-camera\n`)
  terminal.setStatus(0)
}
