import { dayLight, infraredLight, lampLight, type DemoLight, type DemoLightName } from '../yard/demoLight.js'
import { demoStation } from './demoStation.js'
import { join } from 'node:path'
import type { Quad } from '../../math/point.js'
import { seededRandom } from '../../math/random.js'
import { sha256Of } from '../../files/fileSha256.js'
import { writeWhole } from '../../files/writeWhole.js'
import { type DemoBackdrop, demoBackdrop } from './demoBackdropCache.js'
import { DEMO_STILLS, demoStillFile, type DemoStill, type Knock } from './demoScenario.js'
import { encodeJpeg } from '../camera/encodeJpeg.js'
import { simulateClicks } from '../camera/simulateClicks.js'
import { takeDemoStill } from './takeDemoStill.js'
import type { TargetTruth } from '../camera/targetTruth.js'

/** The stills of one light to be written into a walk's folder. */
export interface DemoLightTask {
  readonly dir: string
  readonly light: DemoLightName
}

/** A still as written: its path in the walk, its hash, where a hand clicked, and what was so. */
export interface WrittenDemoStill {
  readonly still: DemoStill
  readonly file: string
  readonly sha256: string
  readonly clicks: Quad
  readonly truth: TargetTruth
  /** Of the optics and pixels, before noise: cycles per exported pixel. */
  readonly f10: number
}

const JPEG_QUALITY = 92
/** The hand of this walk: half a pixel of scatter, and corners taken a little too far out. */
const HABIT = { sigmaPx: 0.5, outwardPx: 0.15 }
/** Sets the clicks of the walk. */
const CLICK_SEED = 20260314

/** Renders one light's yard, takes its stills and writes them; the folder stills/<light> must be there. `tell` hears of each still done. */
export async function writeDemoLight(
  task: DemoLightTask,
  tell: (file: string) => void = () => undefined,
): Promise<WrittenDemoStill[]> {
  const written: WrittenDemoStill[] = []
  let seen: { readonly knock: Knock; readonly backdrop: DemoBackdrop } | null = null
  for (const [index, still] of DEMO_STILLS.entries()) {
    if (still.light !== task.light) continue
    const { knock } = still
    // Rendered anew where the camera was knocked.
    if (JSON.stringify(seen?.knock) !== JSON.stringify(knock))
      seen = { knock, backdrop: demoBackdrop(demoLight(task.light), knock) }
    const { image, truth, f10 } = takeDemoStill(seen!.backdrop, still)
    const bytes = await encodeJpeg(image, JPEG_QUALITY)
    const file = demoStillFile(still)
    await writeWhole(join(task.dir, file), bytes)
    written.push({
      still,
      file,
      sha256: sha256Of(bytes),
      clicks: simulateClicks(truth.corners, HABIT, seededRandom(CLICK_SEED + index)),
      truth,
      f10,
    })
    tell(file)
  }
  return written
}

/** The light of that name in the demonstration's yard. */
export function demoLight(name: DemoLightName): DemoLight {
  if (name === 'day') return dayLight()
  return name === 'lamp' ? lampLight() : infraredLight(demoStation(1).mountHeightM)
}
