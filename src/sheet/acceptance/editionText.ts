import { builtInGradings } from '../../grade/gradings/builtInGradings.js'
import { figuresFor } from '../../units/figures.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { sheetSays } from '../sentences.js'

/** That the edition agreed on is withdrawn, and what the one in force calls the densities that were promised; null where it is in force, or no built-in one. */
export function editionText({ grading, promises, walk }: WalkResults): string | null {
  const agreed = builtInGradings.find((one) => one.grading.id === grading.id)
  const inForce = builtInGradings.find(({ withdrawn }) => withdrawn === null)
  if (agreed === undefined || agreed.withdrawn === null || inForce === undefined) return null
  const limits = [...new Set(promises.flatMap(({ limit, kind }) => (kind === 'read' ? [] : [limit])))].sort(
    (a, b) => a - b,
  )
  const { limit: say } = figuresFor(walk.units)
  const levels = limits.map((limit) => {
    const { name, limit: least } = inForce.grading.grades.findLast((grade) => grade.limit <= limit) ?? {
      name: 'none',
      limit,
    }
    return `${say(limit)} ${name}${least === limit ? '' : ` (from ${say(least)})`}`
  })
  if (levels.length === 0) return null
  const said = sheetSays['edition-withdrawn'](
    agreed.grading.name,
    agreed.withdrawn,
    inForce.grading.name,
    levels.join(', '),
  )
  return `${said.message}.`
}
