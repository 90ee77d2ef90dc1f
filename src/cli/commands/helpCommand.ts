import type { Command } from 'commander'
import { HELP_TOPICS } from '../help/helpTopics.js'
import type { Terminal } from '../terminal/terminal.js'

/** `help NAME`: the help of a command, a topic or a code. */
export function addHelpCommand(program: Command, terminal: Terminal): void {
  const topics = Object.entries(HELP_TOPICS).map(([topic, title]) => `  ${topic.padEnd(10)}${title}\n`)
  program
    .helpCommand(false)
    .command('help')
    .summary('print the help of a command, a topic or a code')
    .description('Prints the help of a command, what there is to know on a topic, or what a code means.')
    .argument('[words...]', 'a command, a topic or a code')
    .option('--json', 'print the codes of a topic, or one code, as one JSON document')
    .addHelpText(
      'after',
      `\nTopics:\n${topics.join('')}\nExamples:\n  proofwalk help chart\n  proofwalk help chart-bent`,
    )
    .action(async ([name, ...more]: string[], { json }: { json?: true }) => {
      if (name === undefined) program.help()
      const inner = [name, ...more].reduce<Command | undefined>(
        (command, word) => command?.commands.find((one) => one.name() === word),
        program,
      )
      if (more.length > 0 && inner !== undefined) inner.help()
      const { printHelp } = await import('../help/printHelp.js')
      printHelp([name, ...more].join(' '), json === true, program, terminal)
    })
}
