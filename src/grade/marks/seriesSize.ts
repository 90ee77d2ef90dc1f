import type { ImageSize } from '../../lens/stillAgainstSheet.js'
import { groupBy } from '../../math/groupBy.js'
import type { Problem } from '../../measure/stillMeasurement.js'
import { problem } from '../../sentences.js'
import { SCENE_CODES } from '../scene/sceneApart.js'
import { gradeSays } from '../sentences.js'

/** A still as far as its size goes, px. */
interface SizedStill {
  readonly file: string
  readonly light: string
  readonly measurement: ImageSize
}

/** The code of a still that is not of its series' size. */
export const OTHER_SIZE = 'other-size'

/** Why a still stands apart from its series, by what is told of it: shown at its mark and counted nowhere. Undefined where it counts. */
export function whyApart(told: readonly Problem[]): Problem | undefined {
  return told.find(({ code }) => code === OTHER_SIZE || SCENE_CODES.includes(code))
}

/**
 * Why stills stand apart, by file: another size than the series of their light may be another stream, scaled or cropped, and nothing in the still says which, not even at
 * half the size. The series has the size that walk.yaml gives (`camera.image`) where a still of the light has it, else that of most of its stills, else, of those as many
 * have, that of most stills of the walk; where that tells none either, no still of the light counts.
 */
export function stillsApart(
  stills: readonly SizedStill[],
  told: ImageSize | null,
): ReadonlyMap<string, Problem> {
  const once = [...new Map(stills.map((still) => [still.file, still])).values()]
  const apart = new Map<string, Problem>()
  for (const [light, ofLight] of groupBy(once, (still) => still.light)) {
    const here = groupBy(ofLight, ({ measurement }) => sizeWords(measurement))
    const most = mostFrequent(here)
    const [size, ...tied] =
      told !== null && here.has(sizeWords(told))
        ? [sizeWords(told)]
        : mostFrequent(groupBy(once.filter(isOf(most)), ({ measurement }) => sizeWords(measurement)))
    for (const still of ofLight) {
      const own = sizeWords(still.measurement)
      if (tied.length > 0) apart.set(still.file, problem(gradeSays['sizes-tie']([size!, ...tied], light)))
      else if (own !== size) apart.set(still.file, problem(gradeSays[OTHER_SIZE](own, light, size!)))
    }
  }
  return apart
}

function isOf(sizes: readonly string[]): (still: SizedStill) => boolean {
  return ({ measurement }) => sizes.includes(sizeWords(measurement))
}

/** The keys with the most items. */
function mostFrequent(groups: ReadonlyMap<string, readonly unknown[]>): string[] {
  const most = Math.max(...[...groups.values()].map(({ length }) => length))
  return [...groups].filter(([, { length }]) => length === most).map(([key]) => key)
}

function sizeWords({ width, height }: ImageSize): string {
  return `${width} x ${height} px`
}
