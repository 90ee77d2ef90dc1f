import type { Observation, TriggerResult } from './judgement.js'

/**
 * Per light, in the order given, the farthest distance at which the camera was seen to trigger and the nearest at which it was not; metres as taped. A light
 * without such an observation is not listed.
 */
export function triggers(
  observations: readonly Observation[],
  lightsInOrder: readonly string[],
): TriggerResult[] {
  return lightsInOrder.flatMap((light) => {
    const distances = (triggered: boolean): number[] =>
      observations
        .filter((seen) => seen.light === light && seen.triggered === triggered)
        .map(({ distanceM }) => distanceM)
    const yes = distances(true)
    const no = distances(false)
    if (yes.length + no.length === 0) return []
    return [
      {
        light,
        farthestTriggered: yes.length === 0 ? null : Math.max(...yes),
        nearestNotTriggered: no.length === 0 ? null : Math.min(...no),
      },
    ]
  })
}
