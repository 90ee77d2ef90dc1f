import type { Command } from 'commander'
import { wholeNumber } from '../terminal/optionValues.js'
import type { PickOptions } from '../folders/pickFolder.js'
import type { Terminal } from '../terminal/terminal.js'

/** `pick DIR`: the page on which corners are clicked and stills assigned. */
export function addPickCommand(program: Command, terminal: Terminal): void {
  program
    .command('pick')
    .summary('open a page to click corners and assign stills')
    .description(
      'Opens a page on this machine to click the corners of the references and to tell where each still belongs.\n' +
        'Every change is saved at once, to picks.json and walk.yaml. The address is printed first; it opens once, in one browser.\n' +
        'Stills stay on this machine. Ends with Ctrl-C.',
    )
    .argument('<dir>', "the walk's folder")
    .option('--port <n>', 'the port to serve it on (0: any that is free)', wholeNumber(0, 65_535))
    .option('--no-open', 'print the address and open no browser')
    .addHelpText('after', '\nExample:\n  proofwalk pick my-camera')
    .action(async (dir: string, options: PickOptions) => {
      const { pickFolder } = await import('../folders/pickFolder.js')
      await pickFolder(dir, options, terminal)
    })
}
