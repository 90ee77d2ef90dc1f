import { lstat } from 'node:fs/promises'
import type { Command } from 'commander'
import { ProofwalkError } from '../errors.js'
import { wholeNumber } from './optionValues.js'
import type { SingleStillOptions } from './measureOneStill.js'
import type { Terminal } from './terminal.js'

interface MeasureOptions extends SingleStillOptions {
  readonly workers?: number
  readonly json?: true
  readonly watch?: true
}

/** `measure DIR`: a walk, to results.json and a table. `measure STILL`: one still with no walk, for pipes and quick looks. */
export function addMeasureCommand(program: Command, terminal: Terminal): void {
  program
    .command('measure')
    .summary('measure the stills of a walk, or one still')
    .description(
      'Measures every still of a walk, writes results.json and prints the table; or measures one still with no walk.\n' +
        'Ends with 0 when every promise is met, 1 when one is not met or not shown, 2 when nothing can be done as asked.',
    )
    .argument('<target>', "the walk's folder, or one still")
    .option('--workers <n>', 'threads to measure on (one a core by default)', wholeNumber(1, 64))
    .option('--json', 'print one JSON document instead of the table')
    .option('--watch', 'go on measuring as stills are dropped in')
    .option(
      '--reference <what>',
      'for one still: a preset of "list references", or a size such as 600x400mm or 2m',
    )
    .option(
      '--corners <points>',
      'for one still: "x,y x,y x,y x,y", clockwise from the reference\'s top left, px',
    )
    .option('--ends <points>', 'for one still: "x,y x,y", the ends of a length, px')
    .option('--chart <paper>', 'for one still: the printed chart that is in view')
    .option('--sigma <px>', 'for one still: how well each point was clicked (0.5 px by default)')
    .option(
      '--distance <length>',
      'for one still: the distance to the reference, which sizes the bend of the lens',
    )
    .option('--grading <id>', 'for one still: a built-in id of "list gradings", or a grading file')
    .addHelpText(
      'after',
      '\nExamples:\n  proofwalk measure my-camera\n' +
        '  proofwalk measure still.jpg --reference plate-eu --corners "1801,990 2009,992 2008,1036 1800,1034" --json',
    )
    .action(async (target: string, options: MeasureOptions) => {
      if (await isFolder(target)) {
        refuseStillOptions(options)
        const { measureFolder } = await import('./measureFolder.js')
        await measureFolder(target, options, terminal)
      } else {
        const { measureOneStill } = await import('./measureOneStill.js')
        await measureOneStill(target, options, terminal)
      }
    })
}

async function isFolder(target: string): Promise<boolean> {
  try {
    return (await lstat(target.replace(/(?<=.)\/+$/, ''))).isDirectory()
  } catch {
    throw new ProofwalkError('not-there', 'there is no such folder or still', {
      file: target,
      mend: 'name a walk\'s folder ("proofwalk new DIR" makes one) or a still',
    })
  }
}

function refuseStillOptions(options: MeasureOptions): void {
  const ofStills = ['reference', 'corners', 'ends', 'chart', 'sigma', 'distance', 'grading'] as const
  const given = ofStills.filter((name) => options[name] !== undefined)
  if (given.length === 0) return
  throw new ProofwalkError('option-of-stills', `--${given[0]} is for one still`, {
    field: `--${given[0]}`,
    mend: 'for a walk this stands in its walk.yaml and picks.json',
  })
}
