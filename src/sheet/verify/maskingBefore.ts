import { readOrdinaryFile } from '../../files/readOrdinaryFile.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { sheetSays } from '../sentences.js'
import { readSheetPdf } from './readSheetPdf.js'

/** What a sheet's pictures hide. */
interface Masking {
  readonly maskPlates: boolean
  readonly maskPeople?: boolean
}

/** Whether a sheet may take the place of the one that is there without a word: not where that hides what this one shows. By what the old one says of itself. */
export async function masksAsBefore(
  file: string,
  now: Masking,
): Promise<Outcome<'as before', 'sheet-was-masked'>> {
  const before = await readOrdinaryFile(file).catch(() => null)
  if (before === null) return success('as before')
  const text = await readSheetPdf(before, file).then(
    (sheet) => sheet.text.replace(/\s/g, ''),
    () => '',
  )
  const says = (name: 'masked-plates' | 'masked-people' | 'masked-all'): boolean =>
    text.includes(sheetSays[name]().message.replace(/\s/g, ''))
  const shows = {
    plates: !now.maskPlates && (says('masked-plates') || says('masked-all')),
    people: now.maskPeople !== true && (says('masked-people') || says('masked-all')),
  }
  return shows.plates || shows.people ? failure(sheetSays['sheet-was-masked'](shows)) : success('as before')
}
