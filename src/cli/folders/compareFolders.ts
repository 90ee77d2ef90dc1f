import { realpath } from 'node:fs/promises'
import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import { compareWalks } from '../../grade/compare/compareWalks.js'
import type { WalkComparison } from '../../grade/compare/comparison.js'
import { isWorse } from '../../grade/promises/verdictOrder.js'
import { comparableWalk, tellsBudgets } from '../../walk/site/comparableWalk.js'
import { sceneOfWalks, type WalkWithResults } from '../../walk/site/sceneOfWalks.js'
import { alikePictures, sharedPictures } from '../../walk/site/sharedPictures.js'
import { readWalk } from '../../walk/read/readWalk.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import { compareTable } from './compareTable.js'
import { expectNoOtherFile } from '../../files/expectNoOtherFile.js'
import { openCommand } from '../terminal/openCommand.js'
import { resultsFor } from '../measure/resultsFor.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options of `compare`, as typed. */
export interface CompareOptions {
  readonly json?: true
  readonly pdf?: string
  readonly workers?: number
}

/**
 * Compares the walks of two folders, prints the tables or the JSON, writes the PDF where asked, and sets the exit status.
 * @throws `ProofwalkError` `same-folder` where both are one folder, `not-a-pdf` where --pdf names another file; what reading and measuring the walks throw
 */
export async function compareFolders(
  beforeDir: string,
  afterDir: string,
  options: CompareOptions,
  terminal: Terminal,
): Promise<void> {
  const walks = [await readWalk(beforeDir), await readWalk(afterDir)] as const
  if ((await realpath(beforeDir)) === (await realpath(afterDir))) {
    throw fault(cliSays['same-folder'](), { file: afterDir })
  }
  if (options.pdf !== undefined) await expectNoOtherFile(options.pdf, '--pdf')
  const results: WalkResults[] = []
  for (const walk of walks) {
    results.push(
      await resultsFor(walk, options.workers ?? null, terminal, { called: walk.dir, need: budgetsNeeded }),
    )
  }
  const [before, after] = results as [WalkResults, WalkResults]
  const sides = [
    { dir: beforeDir, results: before },
    { dir: afterDir, results: after },
  ] as const
  const comparison = compareWalks(
    comparableWalk(before),
    comparableWalk(after),
    await sceneOfWalks(...sides),
    await alikeOf(sides),
  )
  if (options.pdf !== undefined) {
    const [{ comparisonPdf }, { comparedPictures }, { writeWhole }] = await Promise.all([
      import('../../sheet/site/comparisonPdf.js'),
      import('../../sheet/site/comparedPictures.js'),
      import('../../files/writeWhole.js'),
    ])
    const { scene, marks } = comparison
    const pictures = marks.length === 0 ? null : await comparedPictures(...sides, scene[0]?.light ?? null)
    await writeWhole(options.pdf, await comparisonPdf({ before, after, comparison, pictures, paper: 'A4' }))
  }
  if (options.json === true) terminal.out(comparisonJson(comparison))
  else {
    terminal.out(compareTable(before, after, comparison))
    const file = options.pdf === undefined ? '' : `${options.pdf}\n`
    terminal.out(`${file}Next: ${nextCommand(afterDir, options.pdf, comparison)}\n`)
  }
  terminal.setStatus(comparison.findings.some(matters) || comparison.promises.some(isWorse) ? 1 : 0)
}

/** How many pictures of two walks that share none for certain may be one, encoded again. */
async function alikeOf(sides: readonly WalkWithResults[]): Promise<number> {
  const walks = sides.map(({ dir, results }) => ({ dir, stills: results.stills }))
  const [pair] = await alikePictures(walks, sharedPictures(walks))
  return pair?.count ?? 0
}

function budgetsNeeded(results: WalkResults): string | null {
  return tellsBudgets(results) ? null : cliSays['budgets-untold']().message
}

function matters({ weight }: WalkComparison['findings'][number]): boolean {
  return weight !== 'to know'
}

/** The contract other programs read: marks, findings, promises. */
function comparisonJson({ marks, findings, promises }: WalkComparison): string {
  const plain = { marks, findings: findings.map(({ code, message }) => ({ code, message })), promises }
  return `${JSON.stringify(roundNumbers(plain), null, 2)}\n`
}

function nextCommand(afterDir: string, pdf: string | undefined, comparison: WalkComparison): string {
  if (pdf !== undefined) return openCommand(pdf, process.platform)
  return comparison.findings.some(({ weight }) => weight === 'changed')
    ? `put it right, walk again, and proofwalk measure ${shellWord(afterDir)}`
    : `proofwalk sheet ${shellWord(afterDir)}`
}
