import { ALPHABET } from '../../chart/printed/letterShapes.js'
import { seededRandom } from '../../math/random.js'
import { trialOrder } from '../../trial/trialOrder.js'
import type { TrialCrop } from '../../walk/trial/trialCrops.js'
import type { ReadingAnswer, Readings } from '../../walk/schemas/readingsSchema.js'
import { power } from '../../math/power.js'

/** Who reads: half of the characters are right at `halfM`, and 95 % at about two thirds of that. */
export interface SimulatedReader {
  readonly name: string
  readonly halfM: number
}

/** What simulated readers read of a trial's crops: a character that is not read is guessed, or given as "?". */
export function simulatedReadings(
  crops: readonly TrialCrop[],
  distanceOf: (file: string) => number,
  readers: readonly SimulatedReader[],
  seed = 5,
): Readings {
  const random = seededRandom(seed)
  const byId = new Map(crops.map((crop) => [crop.id, crop]))
  const answers = readers.flatMap(({ name, halfM }) =>
    trialOrder([...byId.keys()], seed, name).map(({ crop: id, again }): ReadingAnswer => {
      const { file, still, row, shown } = byId.get(id)!
      const reach = row === 'faint' ? 0.7 * halfM : halfM
      const share = 0.99 / (1 + power(distanceOf(file) / reach, 10))
      const read = [...shown].map((letter) =>
        random.uniform() < share
          ? letter
          : random.uniform() < 0.5
            ? '?'
            : ALPHABET[Math.floor(random.uniform() * ALPHABET.length)]!,
      )
      const answered = read.every((letter) => letter === '?') ? null : read.join('')
      const how = { seconds: 3, practice: false, again, zoom: 4, brightness: 1 }
      return { reader: name, answered, ...how, file, still, row, shown }
    }),
  )
  return { format: 'proofwalk-readings/1', seed, answers }
}
