import type { CameraLens } from '../../src/lens/cameraLens.js'
import { registerStills, type Registration } from '../../src/scene/registerStills.js'
import { scenePicture } from '../../src/scene/scenePicture.js'
import { matchesOf, type SceneWay, type ShownParts, WAY_WIDTH } from '../../src/scene/sceneWays.js'
import type { PixelRegion } from '../../src/still/raster.js'
import { reducedGrey } from './reducedGrey.js'
import type { GreyPicture } from './sceneSite.js'

/** How a simulated still lies against another of its size, as a walk registers them. */
export function registered(
  one: GreyPicture,
  other: GreyPicture,
  lens: CameraLens | null,
  within: 'inside' | 'between' = 'inside',
): Promise<Registration> {
  const stills = [one, other].map((picture) => ({
    ...picture,
    reduced: (across: number, down: number, region?: PixelRegion | null) =>
      reducedGrey(picture, across, down, region ?? null),
  }))
  const picture = (index: 0 | 1, way: SceneWay, parts: ShownParts) =>
    scenePicture(stills[index]!, WAY_WIDTH[way], parts[index])
  return registerStills(
    async (way, parts) => matchesOf(way, await picture(0, way, parts), await picture(1, way, parts)),
    within,
    lens,
    { width: one.width, height: one.height },
  )
}
