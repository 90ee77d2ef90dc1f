import { type Command, Option } from 'commander'
import type { ChartOptions } from '../folders/chartFile.js'
import type { Terminal } from '../terminal/terminal.js'

/** `chart --out FILE`: the test chart, or with `--strip` its sheet of strips, at true scale, as PDF. */
export function addChartCommand(program: Command, terminal: Terminal): void {
  program
    .command('chart')
    .summary('write the test chart at true scale as PDF')
    .description(
      'Writes the test chart that is found in stills by itself. Print it at 100 % on matte paper, mount it on a flat board and measure the ' +
        "black frame's outer width.",
    )
    .option(
      '--paper <size>',
      "A5 to A0, Letter or Tabloid (the office paper of this system's region by default)",
    )
    .requiredOption('--out <file>', 'where to write it')
    .addOption(
      new Option('--tile <size>', 'cut it up on pages of this paper, to be glued together').choices([
        'A4',
        'Letter',
      ]),
    )
    .option('--dim', 'grey for white, for lights that would wash paper out')
    .option('--strip', 'the sheet of two strips for detail at low contrast, fixed under the chart')
    .addHelpText('after', '\nExample:\n  proofwalk chart --paper A2 --out chart.pdf --tile A4')
    .action(async (options: ChartOptions) => {
      const { chartFile } = await import('../folders/chartFile.js')
      await chartFile(options, terminal)
    })
}
