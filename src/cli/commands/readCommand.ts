import type { Command } from 'commander'
import type { ReadOptions } from '../folders/readFolder.js'
import { wholeNumber } from '../terminal/optionValues.js'
import type { Terminal } from '../terminal/terminal.js'

/** `read DIR`: the blind reading trial. */
export function addReadCommand(program: Command, terminal: Terminal): void {
  program
    .command('read')
    .summary('show what is to be read, blind, and take down what readers read')
    .description(
      'Opens a page on this machine that shows one crop at a time, in random order, without mark, light or name: letter cards of the walk, and plates whose text it says. ' +
        'What readers type is kept in readings.json; "proofwalk measure" scores it. Ends with Ctrl-C.',
    )
    .argument('<dir>', "the walk's folder, or a file that --pack wrote")
    .option('--pack <file>', 'write the trial as one file, to be read on another machine without the walk')
    .option('--merge <file>', 'take the answers of such a file into the walk')
    .option('--port <n>', 'the port to serve it on (0: any that is free)', wholeNumber(0, 65_535))
    .option('--no-open', 'print the address and open no browser')
    .addHelpText('after', '\nExample:\n  proofwalk read my-camera')
    .action(async (dir: string, options: ReadOptions) => {
      const { readFolder } = await import('../folders/readFolder.js')
      await readFolder(dir, options, terminal)
    })
}
