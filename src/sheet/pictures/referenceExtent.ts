import type { StillEntry } from '../../walk/schemas/resultsSchema.js'

/**
 * Pixels per metre across the line of sight at a still's reference: the density of a square-on target where it is known,
 * else the larger of the two axes, which foreshortening shortens least.
 */
export function stillScalePxPerM(still: StillEntry): number {
  const { facing, horizontal, vertical, onTarget } = still.density
  return facing ?? Math.max(horizontal ?? 0, vertical ?? 0, onTarget)
}

/** How much a reference takes up upright on the still, metres: the middle of its stills, so that one wild pick does not count. */
export function referenceExtent(
  stills: readonly StillEntry[],
): { readonly widthM: number; readonly heightM: number } | null {
  const boxes = stills.flatMap((still) => {
    const scale = stillScalePxPerM(still)
    if (!(scale > 0) || still.corners.length === 0) return []
    const xs = still.corners.map(([x]) => x)
    const ys = still.corners.map(([, y]) => y)
    return [
      { x: (Math.max(...xs) - Math.min(...xs)) / scale, y: (Math.max(...ys) - Math.min(...ys)) / scale },
    ]
  })
  if (boxes.length === 0) return null
  return { widthM: middle(boxes.map(({ x }) => x)), heightM: middle(boxes.map(({ y }) => y)) }
}

function middle(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.floor((sorted.length - 1) / 2)] ?? 0
}
