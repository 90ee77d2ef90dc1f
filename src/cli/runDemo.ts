import { join } from 'node:path'
import { walkSheet } from '../sheet/walkSheet.js'
import { makeDemoWalk } from '../simulate/makeDemoWalk.js'
import { readWalk } from '../walk/readWalk.js'
import { sheetReading } from '../walk/sheetReading.js'
import { writeWhole } from '../walk/writeWhole.js'
import { demoStory } from './demoStory.js'
import { measureAndWrite } from './measureFolder.js'
import { measureTable } from './measureTable.js'
import { progressLine } from './progressLine.js'
import type { Terminal } from './terminal.js'

/**
 * Makes the demonstration walk, reads its data sheet, measures it, writes its sheet, and tells what the eye missed. Ends with 0 once the sheet is
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
  const contradictions = sheetReading(walk)?.contradictions ?? []
  terminal.out('What the data sheet says of itself\n')
  for (const { message } of contradictions) terminal.out(`  ${message}\n`)
  terminal.out('\n')

  const results = await measureAndWrite(walk, workers, terminal)
  terminal.out(`${measureTable(results)}\n`)

  const sheet = join(dir, 'sheet.pdf')
  await writeWhole(sheet, await walkSheet(walk, results, { paper: 'A4', maskPlates: false }))

  terminal.out('SIMULATED. Five things the eye missed:\n')
  demoStory(results, made.roles).forEach((line, index) => terminal.out(`  ${index + 1}. ${line}\n`))
  terminal.out(`\n${sheet}\nNext: proofwalk new my-camera\n`)
  terminal.setStatus(0)
}
