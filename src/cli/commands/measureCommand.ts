import { stat } from 'node:fs/promises'
import { basename, dirname } from 'node:path'
import { type Command, Option } from 'commander'
import { ProofwalkError } from '../../errors.js'
import { wholeNumber } from '../terminal/optionValues.js'
import type { SingleStillOptions } from '../measure/measureOneStill.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

interface MeasureOptions extends SingleStillOptions {
  readonly workers?: number
  readonly json?: true
  readonly watch?: true
}

/** `measure DIR...`: walks, to results.json and a table each. `measure STILL`: one still with no walk, for pipes and quick looks. */
export function addMeasureCommand(program: Command, terminal: Terminal): void {
  program
    .command('measure')
    .summary('measure the stills of a walk, or one still')
    .description(
      'Measures every still of a walk, writes results.json and prints the table; or measures one still with no walk.\n' +
        'Ends with 0 when every promise is met, 1 when one is not met or not shown, 2 when nothing can be done as asked.',
    )
    .argument('<targets...>', "the walk's folder, several of them, or one still")
    .option('--workers <n>', 'threads to measure on (one a core by default)', wholeNumber(1, 64))
    .option('--json', 'print one JSON document instead of the table')
    .addOption(new Option('--watch', 'go on measuring as stills are dropped in').conflicts('json'))
    .option(
      '--reference <what>',
      'for one still: a preset of "list references", or a size such as 600x400mm or 2m',
    )
    .option(
      '--corners <points>',
      'for one still: "x,y x,y x,y x,y", clockwise from the reference\'s top left, px',
    )
    .option('--ends <points>', 'for one still: "x,y x,y", the ends of a length, px')
    .option(
      '--chart <paper>',
      'for one still: the printed chart that is in view, by its paper; it is found by itself',
    )
    .option('--printed-width <length>', "for one still: outer width of the chart's black frame as taped")
    .option('--sigma <px>', 'for one still: how well each point was clicked (0.5 px by default)')
    .option(
      '--distance <length>',
      'for one still: the distance to the reference, which sizes the bend of the lens',
    )
    .option('--grading <id>', 'for one still: a built-in id of "list gradings", or a grading file')
    .addHelpText(
      'after',
      '\nExamples:\n  proofwalk measure my-camera\n  proofwalk measure harbour/*\n' +
        '  proofwalk measure still.jpg --reference plate-eu --corners "1801,990 2009,992 2008,1036 1800,1034" --json\n' +
        '  proofwalk measure still.jpg --chart A2',
    )
    .action(async (targets: string[], options: MeasureOptions) => {
      const target = targets[0]!
      if (targets.length > 1) {
        refuseOptions(options, OF_STILLS, 'is for one still', 'measure stills one at a time')
        refuseOptions(options, ['watch'], 'is for one walk', 'watch one folder at a time')
        const { measureFolders } = await import('../measure/measureFolder.js')
        return measureFolders(targets, options, terminal)
      }
      if (await isFolder(target)) {
        refuseOptions(
          options,
          OF_STILLS,
          'is for one still',
          'in a walk this stands in walk.yaml and picks.json',
        )
        const { measureFolder } = await import('../measure/measureFolder.js')
        await measureFolder(target, options, terminal)
      } else {
        refuseOptions(options, OF_WALKS, "is for a walk's folder", 'leave it out')
        const { measureOneStill } = await import('../measure/measureOneStill.js')
        await measureOneStill(target, options, terminal)
      }
    })
}

const OF_STILLS = [
  'reference',
  'corners',
  'ends',
  'chart',
  'printedWidth',
  'sigma',
  'distance',
  'grading',
] as const
const OF_WALKS = ['watch', 'workers'] as const

/** Whether a walk's folder is meant, links followed; else one still. */
async function isFolder(target: string): Promise<boolean> {
  const isThere = await stat(target).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'EACCES')
      throw new ProofwalkError('unreadable', 'cannot be read', { file: target, mend: 'allow reading it' })
    throw new ProofwalkError('not-there', 'there is no such folder or still', {
      file: target,
      mend: 'name a walk\'s folder ("proofwalk new DIR" makes one) or a still',
    })
  })
  if (basename(target) === 'walk.yaml') {
    throw new ProofwalkError('file-of-walk', 'is a file of a walk and no still', {
      file: target,
      mend: `name its folder: proofwalk measure ${shellWord(dirname(target))}`,
    })
  }
  return isThere.isDirectory()
}

function refuseOptions(
  options: MeasureOptions,
  names: readonly (keyof MeasureOptions)[],
  message: string,
  mend: string,
): void {
  const given = names.find((name) => options[name] !== undefined)
  if (given === undefined) return
  throw new ProofwalkError('option-out-of-place', message, {
    field: `--${given.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`,
    mend,
  })
}
