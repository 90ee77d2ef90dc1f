import type { WalkResults } from '../walk/schemas/resultsSchema.js'
import type { SheetCrop } from './input/sheetInput.js'
import { maskReference } from './pictures/maskReference.js'

/** The crops with the surface of the reference blurred in each. */
export async function maskCrops(
  crops: readonly SheetCrop[],
  results: WalkResults,
): Promise<readonly SheetCrop[]> {
  const masked: SheetCrop[] = []
  for (const crop of crops) {
    const still = results.stills.find(({ file }) => file === crop.file)
    // A picture whose reference is not known cannot be masked, so it is not shown.
    if (still !== undefined) masked.push(await maskReference(crop, still))
  }
  return masked
}
