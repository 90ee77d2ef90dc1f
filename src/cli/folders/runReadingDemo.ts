import { join } from 'node:path'
import { writeWhole } from '../../files/writeWhole.js'
import { walkSheet } from '../../sheet/acceptance/walkSheet.js'
import { makeReadingDemo } from '../../simulate/demo/makeReadingDemo.js'
import { SIMULATED_READERS } from '../../simulate/demo/readingWalkText.js'
import { simulatedReadings } from '../../simulate/demo/simulatedReadings.js'
import { readWalk } from '../../walk/read/readWalk.js'
import { READINGS_FILE } from '../../walk/trial/readReadings.js'
import { trialCrops } from '../../walk/trial/trialCrops.js'
import { measureAndWrite } from '../measure/measureFolder.js'
import { measureTable } from '../measure/measureTable.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** Makes the demonstration of the reading trial, lets simulated readers read it, measures it and writes its sheet. Ends with 0 once that is written, whatever the verdicts. */
export async function runReadingDemo(dir: string, workers: number | null, terminal: Terminal): Promise<void> {
  const { stillCount } = await makeReadingDemo(dir)
  terminal.out(`SIMULATED: ${stillCount} stills of letter cards in ${dir}\n\n`)
  const walk = await readWalk(dir)
  const first = await measureAndWrite(walk, { workers }, terminal)
  const { crops } = await trialCrops(walk, first)
  const distances = new Map(first.stills.map(({ file, distance }) => [file, distance!]))
  const readings = simulatedReadings(crops, (file) => distances.get(file)!, SIMULATED_READERS)
  await writeWhole(join(dir, READINGS_FILE), `${JSON.stringify(readings, null, 1)}\n`)
  const results = await measureAndWrite(walk, { workers }, terminal)
  terminal.out(
    `SIMULATED: ${SIMULATED_READERS.length} simulated readers, nobody real\n\n${measureTable(results)}\n`,
  )
  const sheet = join(dir, 'sheet.pdf')
  await writeWhole(sheet, await walkSheet(walk, results, { paper: 'A4', maskPlates: false }))
  terminal.out(`${sheet}\nNext: proofwalk read ${shellWord(dir)}\n`)
  terminal.setStatus(0)
}
