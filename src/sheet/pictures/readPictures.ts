import type { ReadPicture, SheetInput } from '../input/sheetInput.js'
import { isSameMark } from '../../walk/read/sameMark.js'
import type { Walk } from '../../walk/read/walk.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { readReadings } from '../../walk/trial/readReadings.js'
import { trialCrops } from '../../walk/trial/trialCrops.js'

/**
 * A picture for each mark of what was read in a walk, the first by file name of those that were shown, with all that was read of it; none where there was no trial. What a
 * sheet hides is hidden here too: with plates all that was read, with people what surrounds a plate.
 */
export async function readPictures(
  walk: Walk,
  results: WalkResults,
  { maskPlates, maskPeople = false }: Pick<SheetInput, 'maskPlates' | 'maskPeople'>,
): Promise<ReadPicture[]> {
  const readings = await readReadings(walk.dir)
  if (readings === null || results.readings.length === 0) return []
  const { crops } = await trialCrops(walk, results)
  return results.readings.flatMap(({ light, reference, row, marks }) =>
    marks.flatMap(({ distance }): ReadPicture[] => {
      const there = crops.filter((crop) => {
        const still = results.stills.find((one) => one.file === crop.file && one.reference === reference)
        return crop.row === row && still?.light === light && isSameMark(still.distance ?? Infinity, distance)
      })
      const read = there
        .sort((one, other) => (one.file < other.file ? -1 : 1))
        .map((crop) => ({
          ...crop,
          answers: readings.answers.filter(
            (one) => one.file === crop.file && one.row === row && one.still === crop.still && !one.again,
          ),
        }))
        .find(({ answers }) => answers.length > 0)
      if (read === undefined) return []
      const isMasked = maskPlates || (maskPeople && row === 'text')
      const { shown, answers, png } = read
      return [{ light, reference, row, distance, shown, answers, image: isMasked ? null : png }]
    }),
  )
}
