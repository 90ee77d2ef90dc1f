import { type Command, Option } from 'commander'
import { wholeNumber } from '../terminal/optionValues.js'
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
    .option(
      '--letters',
      'letter cards for the reading trial, fixed under the chart; what they say goes to cards.json beside the PDF',
    )
    .option('--cards <n>', 'how many letter cards (12 by default)', wholeNumber(1, 40))
    .option('--seed <n>', 'draws the same letters again; by chance without it', wholeNumber(0, 4_294_967_295))
    .option('--height <length>', 'height of the letters (79 mm by default)')
    .option('--stroke <length>', 'stroke of the letters (14 mm by default, in proportion to their height)')
    .addHelpText('after', '\nExample:\n  proofwalk chart --paper A2 --out chart.pdf --tile A4')
    .action(async (options: ChartOptions) => {
      const { chartFile } = await import('../folders/chartFile.js')
      await chartFile(options, terminal)
    })
}
