import { join } from 'node:path'
import type { JudgedStill } from '../../src/grade/judgement.js'
import { chartPaper } from '../../src/chart/printed/chartPapers.js'
import { seededRandom } from '../../src/math/random.js'
import { chartReference } from '../../src/measure/reference/chartReference.js'
import { seenRectangle } from '../measure/seenRectangle.js'
import { drawCamera, paintedStill } from './paintedStill.js'
import { judgedRisk, PROMISED_M } from './riskCurves.js'
import { CLASSES, drawWalk, F, judgedStill, MARK_SETS, measuredCorners, type WalkClass } from './riskWalk.js'

/** Truth over limit at which the verdicts of both paths are compared. */
export const COMPARED_AT = [0.95, 0.98, 1.02, 1.05]

/** The classes as they are painted: what is found is a printed chart. */
const PAINTED = { ...CLASSES, found: [[chartReference('chart', chartPaper('A2')!, null), 'found']] } as const

/** What a path gave: per still and axis how far a density is off that of the same corners without noise, also over its stated standard uncertainty, and the walks whose promises hold the truth. */
const path = () => ({ errorRel: [] as number[], z: [] as number[], holds: PROMISED_M.map(() => 0) })

/**
 * Walks of 4 and 6 marks through every projection in turn, painted into `folder` and measured, and the same draws by corners alone. `apart` is, per still and axis, by how
 * much the densities of both differ in the U of the painted; `ratioU`, per promise, U painted over U by corners; `alike` counts the same verdicts.
 */
export async function paintedWalks(walkClass: WalkClass, walks: number, folder: string) {
  const carried = PAINTED[walkClass]
  const names = carried.map(([{ name }]) => name)
  const paths = [path(), path()] as const
  const [apart, ratioU, alike] = [[] as number[], [] as number[], COMPARED_AT.map(() => 0)]
  const [failed, unlike] = [[] as string[], [] as string[]]
  let stills = 0
  for (let walk = 0; walk < walks; walk++) {
    const seed = 100 * Object.keys(CLASSES).indexOf(walkClass) + walk
    const drawn = drawWalk(carried, MARK_SETS[1 + (walk % 2)]!, seededRandom(seed), undefined, walk % 5)
    const pixels = seededRandom(1000 + seed)
    const camera = drawCamera(pixels)
    const painted: JudgedStill[] = []
    for (const one of drawn) {
      stills += 1
      const still = await paintedStill(one, camera, join(folder, 'still.jpg'), pixels)
      if (typeof still === 'string') {
        failed.push(`walk ${walk} at ${one.markM} m: ${still}`)
        continue
      }
      painted.push(still)
      const quiet = measuredCorners({ ...one, corners: one.exact }).budget
      const truth = seenRectangle(one.scene)
      for (const axis of ['horizontal', 'vertical'] as const) {
        const side = axis === 'horizontal' ? 'widthM' : 'heightM'
        const budgets = [still, judgedStill(one)].map(({ measurement }) => measurement.budget[axis]!)
        const differencePxPerM = budgets[0]!.densityPxPerM - budgets[1]!.densityPxPerM
        apart.push(Math.abs(differencePxPerM) / still.measurement.density[`${axis}U`]!)
        budgets.forEach(({ densityPxPerM, cornersRel, clickBiasRel, bendRel }, at) => {
          // A chart that was read through its own lens has no bend left.
          const straight = (truth[axis] * one.scene[side]) / one.reference[side]
          const errorRel = densityPxPerM / (bendRel === 0 ? straight : quiet[axis]!.densityPxPerM) - 1
          paths[at]!.errorRel.push(errorRel)
          paths[at]!.z.push(errorRel / Math.hypot(cornersRel, clickBiasRel))
        })
      }
    }
    const both = [painted, drawn.map((one) => judgedStill(one))].map((stills) => judgedRisk(stills, names))
    PROMISED_M.forEach((distanceM, at) => {
      const truth = F / distanceM
      const answers = both.map(({ promised }) => promised(distanceM, 1))
      const halves = answers.map(({ low, high }, which) => {
        if (low! <= truth && truth <= high!) paths[which]!.holds[at]! += 1
        return high! - low!
      })
      ratioU.push(halves[0]! / halves[1]!)
      COMPARED_AT.forEach((ratio, which) => {
        const [a, b] = both.map(({ promised }) => promised(distanceM, ratio).verdict)
        if (a === b) alike[which]! += 1
        else unlike.push(`walk ${walk}, ${distanceM} m at ${ratio}: ${a}, by corners ${b}`)
      })
    })
  }
  return { stills, failed, apart, paths, ratioU, alike, unlike }
}
