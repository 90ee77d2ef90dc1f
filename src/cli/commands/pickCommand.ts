import type { Command } from 'commander'
import { wholeNumber } from '../terminal/optionValues.js'
import type { PickOptions } from '../folders/pickFolder.js'
import type { Terminal } from '../terminal/terminal.js'

/** `pick [DIR]`: the page on which a walk is begun, stills are dropped and assigned, and corners clicked. */
export function addPickCommand(program: Command, terminal: Terminal): void {
  program
    .command('pick')
    .summary('open a page to drop stills, assign them and click corners')
    .description(
      'Opens a page on this machine to drop stills, to tell where each belongs and to click the corners of the references.\n' +
        'Where the folder is no walk, the page begins one: without <dir> in a new folder of this one.\n' +
        'Every change is saved at once, to picks.json and walk.yaml. The address is printed first; it opens once, in one browser.\n' +
        'Stills stay on this machine. Ends with Ctrl-C.',
    )
    .argument('[dir]', "the walk's folder (this one by default)")
    .option('--port <n>', 'the port to serve it on (0: any that is free)', wholeNumber(0, 65_535))
    .option('--no-open', 'print the address and open no browser')
    .addHelpText('after', '\nExamples:\n  proofwalk pick\n  proofwalk pick my-camera')
    .action(async (dir: string | undefined, options: PickOptions) => {
      const { pickFolder } = await import('../folders/pickFolder.js')
      await pickFolder(dir, options, terminal)
    })
}
