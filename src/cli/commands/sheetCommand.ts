import { type Command, Option } from 'commander'
import { wholeNumber } from '../terminal/optionValues.js'
import type { SheetOptions } from '../folders/sheetFolder.js'
import type { Terminal } from '../terminal/terminal.js'

/** `sheet DIR`: the acceptance sheet, as PDF. */
export function addSheetCommand(program: Command, terminal: Terminal): void {
  program
    .command('sheet')
    .summary("write a walk's acceptance sheet as PDF")
    .description(
      "Writes a walk's acceptance sheet. Measures first where results.json is missing or does not match its inputs, and says so.\n" +
        'Ends with 0 once the sheet is written, whatever it says.',
    )
    .argument('<dirs...>', "the walk's folder, or several of them")
    .option('--out <file>', 'where to write it (DIR/sheet.pdf by default); for one walk')
    .addOption(
      new Option('--paper <size>', 'the paper it is set for (as walk.yaml says, else A4)').choices([
        'A4',
        'Letter',
      ]),
    )
    .option('--mask-plates', "blur the references' surface in the pictures")
    .addOption(maskOption())
    .addOption(
      new Option('--attach <what>', "which of the walk's files go into the PDF")
        .choices(['all', 'results', 'none'])
        .default('all'),
    )
    .option('--workers <n>', 'threads to measure on, where that is needed', wholeNumber(1, 64))
    .option(
      '--sign <key>',
      'sign it with the key and certificate of a PKCS#12 file ("proofwalk help sealing")',
    )
    .option('--passphrase-file <file>', 'what opens that key (or PROOFWALK_PASSPHRASE holds it)')
    .addHelpText('after', '\nExample:\n  proofwalk sheet my-camera --paper Letter --mask-plates')
    .action(async (dirs: string[], options: SheetOptions) => {
      const { sheetFolder } = await import('../folders/sheetFolder.js')
      if (dirs.length === 1) return sheetFolder(dirs[0]!, options, terminal)
      const { sheetFolders } = await import('../folders/sheetFolder.js')
      await sheetFolders(dirs, options, terminal)
    })
}

/** May be given twice, which hides both. */
function maskOption(): Option {
  const option = new Option(
    '--mask <what>',
    'people: blur all but the references; plates: as --mask-plates; both may be given, beside what walk.yaml says. none: not even that',
  ).choices(['people', 'plates', 'none'])
  const one = option.parseArg!
  return option.argParser<string[]>((typed, before) => [...(before ?? []), one(typed, '')])
}
