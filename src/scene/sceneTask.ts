import { openStill } from '../still/openStill.js'
import type { PixelRegion } from '../still/raster.js'
import type { SceneMatches } from './sceneMatches.js'
import { type ScenePicture, scenePicture } from './scenePicture.js'
import { matchesOf, type SceneWay, type ShownParts, WAY_WIDTH } from './sceneWays.js'

/** Two stills to be registered: where each lies, and the hash it was measured by; plain data, so that it crosses threads. */
export interface SceneTask {
  readonly stills: readonly [SceneFile, SceneFile]
  readonly way: SceneWay
  readonly parts: ShownParts
}

/** A still by its path and the hash of its bytes. */
interface SceneFile {
  readonly path: string
  readonly sha256: string
}

/** The pictures used last, by what they show: one still of a light is held against all others. */
const held = new Map<string, ScenePicture>()
const MOST_HELD = 3

/**
 * The matches of two stills; null where one is no longer what was measured, or is damaged where nothing was measured.
 * @throws an Error with OpenCV's own words where it fails
 */
export async function runSceneTask({ stills, way, parts }: SceneTask): Promise<SceneMatches | null> {
  const one = await pictureOf(stills[0], way, parts[0])
  const other = await pictureOf(stills[1], way, parts[1])
  return one === null || other === null ? null : matchesOf(way, one, other)
}

async function pictureOf(
  { path, sha256 }: SceneFile,
  way: SceneWay,
  part: PixelRegion | null,
): Promise<ScenePicture | null> {
  const key = JSON.stringify([path, sha256, WAY_WIDTH[way], part])
  const known = held.get(key)
  held.delete(key)
  const picture = known ?? (await readPicture(path, sha256, way, part))
  if (picture === null) return null
  held.set(key, picture)
  for (const oldest of held.keys()) if (held.size > MOST_HELD) held.delete(oldest)
  return picture
}

async function readPicture(
  path: string,
  sha256: string,
  way: SceneWay,
  part: PixelRegion | null,
): Promise<ScenePicture | null> {
  const still = await openStill(path)
  if (!still.ok || still.value.sha256 !== sha256) return null
  return scenePicture(still.value, WAY_WIDTH[way], part).catch(() => null)
}
