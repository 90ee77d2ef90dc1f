import { stat } from 'node:fs/promises'
import { basename, dirname } from 'node:path'
import { type Command, Option } from 'commander'
import { fault, type Said } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import { optionAsTyped, wholeNumber } from '../terminal/optionValues.js'
import type { SingleStillOptions } from '../measure/measureOneStill.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

interface MeasureOptions extends SingleStillOptions {
  readonly workers?: number
  readonly json?: true
  readonly watch?: true
  /** False where `--no-scene` is given. */
  readonly scene: boolean
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
    .option('--workers <n>', 'threads to measure on (at most one a core by default)', wholeNumber(1, 64))
    .option('--json', 'print one JSON document instead of the table')
    .option('--no-scene', 'do not look whether the camera stood still from still to still')
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
    .option(
      '--printed-width <length>',
      "for one still: outer width of the chart's black frame, measured on the print",
    )
    .option('--strip <paper>', 'for one still: the sheet of strips under the chart or board, by its paper')
    .option('--sigma <px>', 'for one still: how well each point was clicked (0.5 px by default)')
    .option(
      '--distance <length>',
      'for one still: the distance to the reference, which sizes the bend of the lens',
    )
    .option('--grading <id>', 'for one still: a built-in id of "list gradings", or a grading file')
    .option('--feet', 'for one still: figures in feet, inches and px/ft')
    .addHelpText(
      'after',
      '\nExamples:\n  proofwalk measure my-camera\n  proofwalk measure harbour/*\n' +
        '  proofwalk measure still.jpg --reference plate-eu --corners "1801,990 2009,992 2008,1036 1800,1034" --json\n' +
        '  proofwalk measure still.jpg --chart A2',
    )
    .action(async (targets: string[], options: MeasureOptions) => {
      const target = targets[0]!
      if (targets.length > 1) {
        refuseOptions(options, OF_STILLS, cliSays['option-out-of-place']('for-one-still'))
        refuseOptions(options, ['watch'], cliSays['option-out-of-place']('watches-one-walk'))
        const { measureFolders } = await import('../measure/measureFolder.js')
        return measureFolders(targets, options, terminal)
      }
      if (await isFolder(target)) {
        refuseOptions(options, OF_STILLS, cliSays['option-out-of-place']('for-one-still-not-walk'))
        const { measureFolder } = await import('../measure/measureFolder.js')
        await measureFolder(target, options, terminal)
      } else {
        refuseOptions(options, OF_WALKS, cliSays['option-out-of-place']('for-a-folder'))
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
  'strip',
  'sigma',
  'distance',
  'grading',
  'feet',
] as const
const OF_WALKS = ['watch', 'workers'] as const

/** Whether a walk's folder is meant, links followed; else one still. */
async function isFolder(target: string): Promise<boolean> {
  const isThere = await stat(target).catch((error: NodeJS.ErrnoException) => {
    const said = error.code === 'EACCES' ? cliSays.unreadable(null) : cliSays['no-folder-or-still']()
    throw fault(said, { file: target })
  })
  if (basename(target) === 'walk.yaml')
    throw fault(cliSays['file-of-walk'](shellWord(dirname(target))), { file: target })
  return isThere.isDirectory()
}

function refuseOptions(options: MeasureOptions, names: readonly (keyof MeasureOptions)[], said: Said): void {
  const given = names.find((name) => options[name] !== undefined)
  if (given !== undefined) throw fault(said, { field: optionAsTyped(given) })
}
