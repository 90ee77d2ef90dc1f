import { Argument, type Command } from 'commander'
import type { Terminal } from '../terminal/terminal.js'

/** `schema FILE`: the JSON Schema of a file of the walk, for editors and other programs. */
export function addSchemaCommand(program: Command, terminal: Terminal): void {
  program
    .command('schema')
    .summary('print the JSON Schema of a file')
    .description('Prints the JSON Schema of walk.yaml, results.json, picks.json or a grading file.')
    .addArgument(new Argument('<file>', 'which file').choices(['walk', 'results', 'picks', 'grading']))
    .addHelpText('after', '\nExample:\n  proofwalk schema walk > walk.schema.json')
    .action(async (file: 'walk' | 'results' | 'picks' | 'grading') => {
      const { jsonSchemaOfFile } = await import('../../walk/schemas/jsonSchemas.js')
      terminal.out(`${JSON.stringify(jsonSchemaOfFile(file), null, 2)}\n`)
    })
}
