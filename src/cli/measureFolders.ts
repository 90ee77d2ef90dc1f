import { readWalk } from '../walk/read/readWalk.js'
import type { WalkResults } from '../walk/schemas/resultsSchema.js'
import { eachFolder } from './terminal/eachFolder.js'
import { exitStatus, measureAndWrite } from './measure/measureFolder.js'
import { measureTable } from './measure/measureTable.js'
import { shellWord } from './terminal/shellWord.js'
import type { Terminal } from './terminal/terminal.js'

/** Measures several walks, each into its own results.json, and prints their tables or one JSON document of all. */
export async function measureFolders(
  dirs: readonly string[],
  options: { readonly workers?: number; readonly json?: true },
  terminal: Terminal,
): Promise<void> {
  const walks: { dir: string; results: WalkResults }[] = []
  const print = (): void => {
    if (options.json === true) terminal.out(`${JSON.stringify({ walks }, null, 2)}\n`)
    else if (walks.length > 0)
      terminal.out(`Next: proofwalk summary ${walks.map(({ dir }) => shellWord(dir)).join(' ')}\n`)
    terminal.setStatus(walks.some(({ results }) => exitStatus(results) === 1) ? 1 : 0)
  }
  try {
    await eachFolder(dirs, async (dir) => {
      const results = await measureAndWrite(await readWalk(dir), options.workers ?? null, terminal)
      walks.push({ dir, results })
      if (options.json !== true) terminal.out(`${dir}\n\n${measureTable(results)}\n`)
    })
  } finally {
    print()
  }
}
