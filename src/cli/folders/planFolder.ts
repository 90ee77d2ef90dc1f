import { join } from 'node:path'
import { expectNoOtherFile } from '../../files/expectNoOtherFile.js'
import type { PaperName } from '../../sheet/input/sheetInput.js'
import { planJson } from '../../walk/plan/planJson.js'
import { planWalk } from '../../walk/plan/planWalk.js'
import { readWalk } from '../../walk/read/readWalk.js'
import { writeWhole } from '../../files/writeWhole.js'
import { openCommand } from '../terminal/openCommand.js'
import { planTable } from './planTable.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options of `plan`, as typed. */
export interface PlanOptions {
  readonly pdf?: string
  readonly paper: PaperName
  readonly json?: true
}

/** Plans a walk's folder, prints the table or the JSON, and writes the walk plan where one was asked for. */
export async function planFolder(dir: string, options: PlanOptions, terminal: Terminal): Promise<void> {
  const walk = await readWalk(dir)
  const plan = planWalk(walk)
  if (options.pdf !== undefined) {
    await expectNoOtherFile(options.pdf, '--pdf')
    const { planPdf } = await import('../../sheet/plan/planPdf.js')
    await writeWhole(options.pdf, await planPdf(walk, plan, options.paper))
  }
  if (options.json === true) {
    terminal.out(`${JSON.stringify(planJson(plan), null, 2)}\n`)
  } else {
    terminal.out(`${planTable(walk, plan)}\n`)
    terminal.out(
      options.pdf === undefined
        ? `Next: proofwalk plan ${shellWord(dir)} --pdf ${shellWord(join(dir, 'plan.pdf'))}\n`
        : `${options.pdf}\nNext: ${openCommand(options.pdf, process.platform)}\n`,
    )
  }
  terminal.setStatus(0)
}
