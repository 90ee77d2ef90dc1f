import { distanceInName } from './stillName.js'
import { lightOfWalk } from '../read/walkWords.js'

/** What a still's own path tells of its place, each null where it does not: its folder the light, the begin of its name the distance. */
export function toldByPath(
  path: string,
  lights: readonly string[],
): { readonly light: string | null; readonly distanceM: number | null } {
  const steps = path.split('/')
  const folder = steps.length === 3 && steps[0] === 'stills' ? steps[1]! : null
  const distance = distanceInName(steps.at(-1)!)
  return {
    light: folder === null ? null : lightOfWalk(folder, lights),
    distanceM: distance.ok && distance.value > 0 ? distance.value : null,
  }
}
