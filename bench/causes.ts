import { hearCell, WRONG_CELLS } from '../tests/support/wrongWalks.js'
import { MARK_SETS } from '../tests/support/riskWalk.js'

// What the court of causes says of walks with something wrong, against what is: corner-only walks with 4, 6 and 8 marks. Each line: what came first, in 100 walks (`-`:
// silent); in how many causes were not told apart, a second cause was found, a good mark was blamed. Arguments: walks of each [150], a cell's name, one number of marks.

const [walks = '150', onlyCell, onlyMarks] = process.argv.slice(2)
const KINDS = ['-', 'start', 'zoomed', 'moved', 'size', 'mark', 'scaled', 'aspect', 'rougher']
const column = (text: string): string => text.padStart(8)
const percent = (count: number): string =>
  column(count === 0 ? '.' : ((100 * count) / Number(walks)).toFixed(0))

const heads = [...KINDS, 'several', 'again', 'blamed'].map(column).join('')
console.log(`${'what is wrong'.padEnd(18)} ${'corners'.padEnd(14)} marks${heads}`)
for (const cell of WRONG_CELLS) {
  if (onlyCell !== undefined && onlyCell !== cell.name) continue
  for (const walkClass of cell.classes) {
    for (const marksM of MARK_SETS.slice(1)) {
      if (onlyMarks !== undefined && Number(onlyMarks) !== marksM.length) continue
      const { first, notApart, again, goodBlamed } = hearCell(
        cell,
        walkClass,
        marksM,
        Number(walks),
        marksM.length,
      )
      const shares = [...KINDS.map((kind) => first[kind] ?? 0), notApart, again, goodBlamed].map(percent)
      console.log(
        `${cell.name.padEnd(18)} ${walkClass.padEnd(14)} ${String(marksM.length).padStart(5)}${shares.join('')}`,
      )
    }
  }
}
