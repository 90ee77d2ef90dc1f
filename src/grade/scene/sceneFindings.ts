import { groupBy } from '../../math/groupBy.js'
import { isPlaced, type PlacedStill, type Scene, type SceneLight } from '../../scene/scene.js'
import { isTurned, type ToldMotion } from '../../scene/toldMotion.js'
import { problem, type Said } from '../../sentences.js'
import { listed } from '../../units/figures.js'
import type { WalkFinding } from '../judgement.js'
import { isOtherScale } from './sceneApart.js'
import { scaleWords, turnWords, withinWords } from './sceneWords.js'
import { sceneSays } from './sentences.js'

/** With stills in so many places, and so large a share of them elsewhere than most are, a camera is not steady. This project's convention. */
const UNSTEADY_PLACES = 4
const UNSTEADY_SHARE = 1 / 3
/** More stills than this are not named one by one. */
const MOST_NAMED = 3

type LightOf = (file: string) => string | undefined

/** What the scene tells of camera and export as a whole: turned, unsteady, zoomed from light to light. */
export function sceneFindings(scene: Scene | null, lightOf: LightOf): WalkFinding[] {
  if (scene === null) return []
  const byLight = groupBy(scene.stills, ({ file }) => lightOf(file))
  return [
    ...[...byLight].flatMap(([light, stills]) =>
      light === undefined ? [] : insideLight(light, stills.filter(isPlaced)),
    ),
    ...scene.lights.flatMap(betweenLights),
  ]
}

function insideLight(light: string, placed: readonly PlacedStill[]): WalkFinding[] {
  const steady = placed.filter((still) => !isOtherScale(still))
  const moved = steady.filter((still) => still.group > 0 && isTurned(still))
  if (moved.length === 0) return []
  const places = groupBy(moved, ({ group }) => group)
  if (places.size + 1 >= UNSTEADY_PLACES && moved.length >= UNSTEADY_SHARE * steady.length)
    return [found(sceneSays.unsteady(light, withinWords(steady), steady.length), light, farthest(moved))]
  return [...places.values()].map((stills) => {
    const [first] = stills
    const files = stills.map(({ file }) => file)
    const named =
      files.length > MOST_NAMED ? `${files.length} stills (${files[0]!} and others)` : listed(files)
    const says = sceneSays[first!.turn === null ? 'picture-shifted' : 'camera-turned']
    return found(says(named, light, turnWords(first!)), light, first!)
  })
}

function betweenLights(pair: SceneLight): WalkFinding[] {
  const { light, against, scale } = pair
  const findings: WalkFinding[] = []
  if (isOtherScale(pair)) {
    const said = sceneSays['scene-zoomed'](light, against, scaleWords(pair), scale > 1)
    const by = scale - 1
    const ends = { value: by, low: by - pair.u.scale, high: by + pair.u.scale }
    findings.push({ ...problem(said), light, reference: null, ...ends })
  }
  if (isTurned(pair)) {
    const says = sceneSays[pair.turn === null ? 'shifted-between-lights' : 'turned-between-lights']
    findings.push(found(says(light, against, turnWords(pair)), light, pair))
  }
  return findings
}

function farthest(stills: readonly PlacedStill[]): PlacedStill {
  return stills.reduce((most, still) => (sizeOf(still) > sizeOf(most) ? still : most))
}

function sizeOf({ turn, shift }: ToldMotion): number {
  return turn === null ? Math.hypot(shift.x, shift.y) : Math.hypot(turn.pan, turn.tilt)
}

/** With its size, degrees or px. */
function found(said: Said, light: string, motion: ToldMotion): WalkFinding {
  const [value, u] = [sizeOf(motion), motion.turn === null ? motion.u.shift : motion.u.turn]
  return { ...problem(said), light, reference: null, value, low: value - u, high: value + u }
}

/** One sentence a light that has stills: within what the scene stood still, or that it is not told. */
export function sceneLines(
  scene: Scene | null,
  stills: readonly { readonly file: string; readonly light: string | null }[],
): string[] {
  const lights = new Map(stills.map(({ file, light }) => [file, light]))
  return [...new Set(lights.values())].flatMap((light) => {
    if (light === null) return []
    const placed = (scene?.stills ?? []).filter(isPlaced).filter(({ file }) => lights.get(file) === light)
    const still = placed.filter(({ group }) => group === 0)
    const all = [...lights].filter(([, own]) => own === light).length
    if (still.length < 2) return sceneSays['scene-not-told'](light, all, scene !== null).message
    return sceneSays['stood-still'](light, withinWords(still), still.length, all).message
  })
}
