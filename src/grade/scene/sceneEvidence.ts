import { groupBy } from '../../math/groupBy.js'
import { isPlaced, type Scene } from '../../scene/scene.js'
import { isTurned } from '../../scene/toldMotion.js'
import { isSameScale } from './sceneApart.js'

/** What the scene speaks against, for the court of causes. */
export interface SceneEvidence {
  /** Lights that are surely drawn as large as the light they were held against, which are all joined by it. */
  readonly unzoomed: ReadonlySet<string>
  /** Lights of which all stills were told, surely at one scale. */
  readonly even: ReadonlySet<string>
  /** Pairs of lights that are surely drawn alike, with nothing moved in them or between them. */
  readonly alike: readonly AlikeLights[]
}

/** Two lights, by how much larger the scene is in the one than in the other, as a logarithm, and its expanded uncertainty, 95 %. */
export interface AlikeLights {
  readonly light: string
  readonly against: string
  readonly logScale: number
  readonly U: number
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
  const moved = new Set(
    stills.flatMap(({ file, light }) => ((placed.get(file)?.group ?? 0) > 0 ? [light] : [])),
  )
  const isStill = (light: string): boolean => even.includes(light) && !moved.has(light)
  const alike = (scene?.lights ?? [])
    .filter((pair) => isSameScale(pair) && !isTurned(pair) && isStill(pair.light) && isStill(pair.against))
    .map(({ light, against, scale, u }) => ({
      light,
      against,
      logScale: Math.log(scale),
      U: u.scale / scale,
    }))
  return { unzoomed: new Set(unzoomed), even: new Set(even), alike }
}
