import { hearCell, reachable, WRONG_CELLS } from '../tests/support/wrongWalks.js'
import { MARK_SETS } from '../tests/support/riskWalk.js'

// What the court of causes says of walks with something wrong, against what is: corner-only walks with 4, 6 and 8 marks. Each line: what came first, in 100 walks (`-`:
// silent); in how many the right one was first or not told apart from what was, causes were not told apart, a second cause was found, a good mark was blamed; and how often
// the right one could come first at best (`reachable`). Arguments: walks of each [150], a cell's name, one number of marks.

const [walks = '150', onlyCell, onlyMarks] = process.argv.slice(2)
const KINDS = ['-', 'start', 'zoomed', 'moved', 'size', 'mark', 'scaled', 'aspect', 'rougher']
const column = (text: string): string => text.padStart(8)
const percent = (count: number): string =>
  column(count === 0 ? '.' : ((100 * count) / Number(walks)).toFixed(0))

const heads = [...KINDS, 'named', 'several', 'again', 'blamed', 'alone', 'bound'].map(column).join('')
console.log(
  `alone: how often the likelihood ratio of the right cause would stand out if it alone were asked for, 3 of 100 honest walks accused;
bound: the same where every cause may be it and 3 of 100 are accused of any, and the closest rival, not likelier beforehand, does not explain more. Both by what is
stated of hands, tapes and how references are held: walks are drawn a little better (held to 2 degrees, stated 3; two references at one place,
stated within half the tape's tolerance), so a rate may lie above its bound.
`,
)
console.log(`${'what is wrong'.padEnd(18)} ${'corners'.padEnd(14)} marks${heads}`)
for (const cell of WRONG_CELLS) {
  if (onlyCell !== undefined && onlyCell !== cell.name) continue
  for (const walkClass of cell.classes) {
    for (const marksM of MARK_SETS.slice(1)) {
      if (onlyMarks !== undefined && Number(onlyMarks) !== marksM.length) continue
      const { first, named, notApart, again, goodBlamed } = hearCell(
        cell,
        walkClass,
        marksM,
        Number(walks),
        marksM.length,
      )
      const shares = [...KINDS.map((kind) => first[kind] ?? 0), named, notApart, again, goodBlamed].map(
        percent,
      )
      const best = reachable(cell, walkClass, marksM)
      const bounds = [best?.alone, best?.among].map((each) => percent((each ?? 0) * Number(walks)))
      console.log(
        `${cell.name.padEnd(18)} ${walkClass.padEnd(14)} ${String(marksM.length).padStart(5)}${[...shares, ...bounds].join('')}`,
      )
    }
  }
}
