import { PROMISED_M, riskCurve, TRUTH_OVER_LIMIT } from '../tests/support/riskCurves.js'
import { CLASSES, MARK_SETS, type WalkClass } from '../tests/support/riskWalk.js'

// How often a promise's interval holds the truth, and what becomes of promises close to their limit: corner-only walks of every class with 3, 4, 6 and 8 marks from 3 to
// 13 m, the tape begun up to 0.2 m off. Arguments: walks of each [1000], one class, one number of marks.

const [walks = '1000', onlyClass, onlyMarks] = process.argv.slice(2)
const percent = (share: number): string => (100 * share).toFixed(1).padStart(6)

for (const walkClass of Object.keys(CLASSES) as WalkClass[]) {
  if (onlyClass !== undefined && onlyClass !== walkClass) continue
  for (const [index, marksM] of MARK_SETS.entries()) {
    if (onlyMarks !== undefined && Number(onlyMarks) !== marksM.length) continue
    const { covered, meanU, verdicts, lost } = riskCurve(walkClass, marksM, Number(walks), 1 + index)
    console.log(
      `${walkClass}, ${marksM.length} marks: U ${percent(meanU)} %, a good mark left out in ${percent(lost / Number(walks))} %`,
    )
    console.log(`  promised at, m  ${PROMISED_M.map((each) => String(each).padStart(6)).join('')}`)
    console.log(`  covered, %      ${covered.map((each) => percent(each / Number(walks))).join('')}`)
    console.log(`  truth / limit   ${TRUTH_OVER_LIMIT.map((each) => String(each).padStart(6)).join('')}`)
    for (const verdict of ['met', 'not shown', 'not met'] as const) {
      const shares = verdicts.map((each) => percent(each[verdict] / Number(walks) / PROMISED_M.length))
      console.log(`  ${`${verdict}, %`.padEnd(15)} ${shares.join('')}`)
    }
  }
}
