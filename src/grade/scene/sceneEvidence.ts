import { groupBy } from '../../math/groupBy.js'
import { isPlaced, type Scene } from '../../scene/scene.js'
import { isSameScale } from './sceneApart.js'

/** What the scene speaks against, for the court of causes. */
export interface SceneEvidence {
  /** Lights that are surely drawn as large as the light they were held against, which are all joined by it. */
  readonly unzoomed: ReadonlySet<string>
  /** Lights of which all stills were told, surely at one scale. */
  readonly even: ReadonlySet<string>
}

/** What a scene speaks against, of counted stills by file and light. */
export function sceneEvidence(
  scene: Scene | null,
  stills: readonly { readonly file: string; readonly light: string }[],
): SceneEvidence {
  const placed = new Map((scene?.stills ?? []).filter(isPlaced).map((still) => [still.file, still]))
  const even = [...groupBy(stills, ({ light }) => light)].flatMap(([light, ofLight]) =>
    ofLight.every(({ file }) => placed.has(file) && isSameScale(placed.get(file)!)) ? [light] : [],
  )
  const unzoomed = (scene?.lights ?? []).filter(isSameScale).flatMap(({ light, against }) => [light, against])
  return { unzoomed: new Set(unzoomed), even: new Set(even) }
}
