import type { ScenePicture } from './scenePicture.js'

/** Places of one still that were found in another, as [x, y, x there, y there] one after the other, px of the stills, to a thousandth. */
export interface SceneMatches {
  readonly points: readonly number[]
  /** In how many cells of each there was something to look for. */
  readonly seen: readonly [number, number]
}

/** Places of reduced pictures, pixel centres at whole numbers, as places of their stills. */
export function toStills(points: readonly number[], one: ScenePicture, other: ScenePicture): number[] {
  const axes = [one, other].flatMap(({ width, height, shown }) => [
    { scale: shown.width / width, from: shown.left },
    { scale: shown.height / height, from: shown.top },
  ])
  return points.map((at, i) => {
    const { scale, from } = axes[i % 4]!
    return Math.round(1000 * (from + (at + 0.5) * scale)) / 1000
  })
}
