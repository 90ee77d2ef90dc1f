import type { RoseK } from '../../measure/stillMeasurement.js'

type RoseKs = Readonly<Record<string, RoseK | null>>

/**
 * Rose's k per grade over the repeats of a mark: the mean of those that could be told. Its U is the larger of the stated
 * ones' root mean square over the root of their number and of twice the standard error of their scatter.
 */
export function combineRoseK(repeats: readonly RoseKs[]): RoseKs {
  const ids = [...new Set(repeats.flatMap((roseK) => Object.keys(roseK)))]
  return Object.fromEntries(
    ids.map((id): [string, RoseK | null] => {
      const told = repeats.flatMap((roseK) => roseK[id] ?? [])
      return [id, told.length === 0 ? null : meanRoseK(told)]
    }),
  )
}

function meanRoseK(told: readonly RoseK[]): RoseK {
  const n = told.length
  const least = told[0]!.least
  const asked = least === undefined ? {} : { least }
  const k = told.reduce((sum, rose) => sum + rose.k, 0) / n
  const stated = Math.sqrt(told.reduce((sum, rose) => sum + rose.U ** 2, 0)) / n
  if (n === 1) return { k, U: stated, ...asked }
  const variance = told.reduce((sum, rose) => sum + (rose.k - k) ** 2, 0) / (n - 1)
  return { k, U: Math.max(stated, 2 * Math.sqrt(variance / n)), ...asked }
}
