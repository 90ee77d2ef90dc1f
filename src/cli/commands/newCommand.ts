import { type Command, Option } from 'commander'
import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import { todayHere } from '../../walk/new/makeWalk.js'
import type { NewOptions } from '../../walk/new/newWalkOptions.js'
import { optionAsTyped } from '../terminal/optionValues.js'
import type { Terminal } from '../terminal/terminal.js'

const several = (value: string, before: readonly string[] | undefined) => [...(before ?? []), value]

/** `new DIR`: a walk.yaml with every key explained, and the folders for the stills. */
export function addNewCommand(program: Command, terminal: Terminal): void {
  program
    .command('new')
    .summary("make a walk's folder")
    .description(
      'Writes a commented walk.yaml and the folders for the stills. Asks on a terminal for what no option gives;\n' +
        'never overwrites a walk.yaml.',
    )
    .argument('<dir>', 'the folder, made where it is not there')
    .option('--site <text>', 'where the camera stands (the name of the folder by default)')
    .option('--client <text>', 'who ordered the camera')
    .option('--camera <text>', 'what the camera is called (the name of the folder by default)')
    .option('--date <yyyy-mm-dd>', 'of the walk (by default the one its stills agree on)')
    .addOption(new Option('--metres', 'plan the marks in metres (the default)').conflicts('feet'))
    .option('--feet', 'plan the marks in feet, and print tables and sheet in feet')
    .option('--still <file>', 'an exported still, to read its size from')
    .option('--field-of-view <degrees>', 'from the data sheet, such as "100 x 52"')
    .option('--focal-length <length>', 'from the data sheet, such as "6.6 mm"')
    .option('--sensor <size>', 'from the data sheet, such as 1/1.7 or "7.6 x 4.3 mm"')
    .option('--mount-height <length>', 'height of the camera over the ground')
    .option(
      '--carry <what>',
      'what is carried: a preset, 600x400mm, 2m or "chart A2"; may be given several times',
      several,
    )
    .addOption(
      new Option('--measured-with <way>', 'how distances are measured, which sets their tolerance').choices([
        'tape',
        'laser',
        'wheel',
        'paces',
      ]),
    )
    .option('--grading <id>', 'a built-in grading of "list gradings"')
    .option('--marks <lengths>', 'the planned marks, such as "4 m, 8 m, 16 m"')
    .option('--lights <names>', 'the lights, such as "day, infrared"')
    .option(
      '--promise <text>',
      'what the camera must do: "read a plate at 16 m in day", "recognise at 20 m in infrared"; may be given several times',
      several,
    )
    .option('--from <walk>', "with --cameras: the walk's folder that all are made alike")
    .option(
      '--cameras <list.csv>',
      'with --from: a folder in DIR for every line; columns name, id, serial, mountHeight, tilt, image, fieldOfView, focalLength, sensor, pixelPitch, settings, site, date, notes, folder, marks, lights, promises',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  proofwalk new harbour --from my-camera --cameras cameras.csv\n  proofwalk new my-camera --carry plate-eu --carry 600x400mm --promise "read a plate at 12 m in infrared"',
    )
    .action(async (dir: string, { from, cameras, ...options }: NewOptions & ListOptions) => {
      if (from !== undefined || cameras !== undefined) {
        expectList(from, cameras, Object.keys(options))
        const { newFromList } = await import('../new/newFromList.js')
        return newFromList(dir, from!, cameras!, terminal)
      }
      const { newFolder } = await import('../new/newFolder.js')
      await newFolder(dir, options, todayHere(), terminal)
    })
}

interface ListOptions {
  readonly from?: string
  readonly cameras?: string
}

/** The two options of a list come together, and alone. */
function expectList(from: string | undefined, cameras: string | undefined, others: readonly string[]): void {
  if (from === undefined) throw fault(cliSays['option-out-of-place']('from-is-needed'), { field: '--from' })
  if (cameras === undefined)
    throw fault(cliSays['option-out-of-place']('cameras-are-needed'), { field: '--cameras' })
  const other = others[0]
  if (other === undefined) return
  throw fault(cliSays['option-out-of-place']('not-with-cameras'), { field: optionAsTyped(other) })
}
