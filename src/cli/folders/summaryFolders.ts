import { resolve } from 'node:path'
import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import type { PaperName } from '../../sheet/input/sheetInput.js'
import { siteSummary, type SiteSummary } from '../../walk/site/siteSummary.js'
import { readSite } from '../../walk/site/siteWalk.js'
import { summaryJson } from '../../walk/site/summaryJson.js'
import { openCommand } from '../terminal/openCommand.js'
import { shellWord } from '../terminal/shellWord.js'
import { summaryTable } from './summaryTable.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options of `summary`, as typed. */
export interface SummaryOptions {
  /** False where `--no-scene` is given. */
  readonly scene: boolean
  readonly json?: true
  readonly csv?: string
  readonly pdf?: string
  readonly paper: PaperName
}

/** Sums up the walks of a site, prints the table or the JSON, writes CSV and PDF where asked, and sets the exit status. */
export async function summaryFolders(
  dirs: readonly string[],
  options: SummaryOptions,
  terminal: Terminal,
): Promise<void> {
  const each = [...new Map(dirs.map((dir) => [resolve(dir), dir])).values()]
  const summary = await siteSummary(await readSite(each), options.scene)
  const files = await writeFiles(summary, options)
  if (options.json === true) terminal.out(`${JSON.stringify(summaryJson(summary), null, 2)}\n`)
  else {
    terminal.out(`${summaryTable(summary)}\n${files.map((file) => `${file}\n`).join('')}`)
    terminal.out(`Next: ${nextCommand(summary, options)}\n`)
  }
  const well = summary.promises.every(({ promise }) => promise.verdict === 'met')
  const isAmiss = [summary.notCurrent, summary.shared, summary.scenes].some(({ length }) => length > 0)
  terminal.setStatus(well && !isAmiss ? 0 : 1)
}

async function writeFiles(summary: SiteSummary, { csv, pdf, paper }: SummaryOptions): Promise<string[]> {
  if (csv === undefined && pdf === undefined) return []
  const { writeWhole } = await import('../../files/writeWhole.js')
  if (pdf !== undefined) {
    const { expectNoOtherFile } = await import('../../files/expectNoOtherFile.js')
    await expectNoOtherFile(pdf, '--pdf')
  }
  if (csv !== undefined) {
    expectCsvName(csv)
    const { summaryCsv } = await import('../../walk/site/summaryCsv.js')
    await writeWhole(csv, summaryCsv(summary))
  }
  if (pdf !== undefined) {
    const { summaryPdf } = await import('../../sheet/site/summaryPdf.js')
    await writeWhole(pdf, await summaryPdf(summary, paper))
  }
  return [csv, pdf].filter((file) => file !== undefined)
}

/** A slip of the pen must not replace a walk.yaml or a still: what is written over is called a CSV. */
function expectCsvName(file: string): void {
  if (/\.csv$/i.test(file)) return
  throw fault(cliSays['not-a-csv'](), { file })
}

function nextCommand({ notCurrent, walks }: SiteSummary, { pdf }: SummaryOptions): string {
  if (notCurrent.length > 0) {
    const dirs = notCurrent.slice(0, 3).map(({ dir }) => shellWord(dir))
    return `proofwalk measure ${dirs.join(' ')}${notCurrent.length > 3 ? ' ...' : ''}`
  }
  if (pdf !== undefined) return openCommand(pdf, process.platform)
  return `proofwalk summary ${shellWord(walks[0]!.dir)}${walks.length > 1 ? ' ...' : ''} --pdf summary.pdf`
}
