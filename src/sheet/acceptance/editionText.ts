import { builtInGradings } from '../../grade/gradings/builtInGradings.js'
import { figuresFor } from '../../units/figures.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { sheetSays } from '../sentences.js'

/** What the other edition calls the densities that were promised, and which of the two is withdrawn; null without promises, and of a grading of one's own. */
export function editionText({ grading, promises, walk }: WalkResults): string | null {
  const agreed = builtInGradings.find((one) => one.grading.id === grading.id)
  const other = builtInGradings.find((one) => one !== agreed)
  if (agreed === undefined || other === undefined) return null
  const limits = [...new Set(promises.flatMap(({ limit, kind }) => (kind === 'read' ? [] : [limit])))].sort(
    (a, b) => a - b,
  )
  const { limit: say } = figuresFor(walk.units)
  const levels = limits.map((limit) => {
    const { name, limit: least } = other.grading.grades.findLast((grade) => grade.limit <= limit) ?? {
      name: 'none',
      limit,
    }
    return `${say(limit)} is ${name}${least === limit ? '' : ` (from ${say(least)})`}`
  })
  if (levels.length === 0) return null
  const calls = levels.join(', ')
  const said =
    agreed.withdrawn === null
      ? sheetSays['edition-before'](other.grading.name, other.withdrawn ?? '', calls)
      : sheetSays['edition-withdrawn'](agreed.grading.name, agreed.withdrawn, other.grading.name, calls)
  return `${said.message}.`
}
