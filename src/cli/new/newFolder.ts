import { join } from 'node:path'
import { fault } from '../../sentences.js'
import { openStill } from '../../still/openStill.js'
import { isChart } from '../../measure/reference/reference.js'
import { expectNoWalk, makeWalk } from '../../walk/new/makeWalk.js'
import { BY_PIXELS_REASON, judgesByPixels, type NewWalk } from '../../walk/new/newWalk.js'
import { newWalkOf, type NewOptions } from '../../walk/new/newWalkOptions.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** Asks, reads the size of the still, and writes a new walk: walk.yaml and a folder for each light. Never overwrites one. */
export async function newFolder(
  dir: string,
  options: NewOptions,
  today: string,
  terminal: Terminal,
): Promise<void> {
  const file = join(dir, 'walk.yaml')
  await expectNoWalk(dir)
  const answered = terminal.interactive ? await asked(options) : options
  const image = answered.still === undefined ? null : await sizeOf(answered.still)
  const walk = newWalkOf(dir, answered, { today, image })
  const lights = await makeWalk(dir, walk)

  terminal.out(`wrote ${file} and a folder for the stills of each light: ${lights.join(', ')}\n`)
  // on a terminal each was said when it was asked
  for (const { because } of terminal.interactive ? [] : walk.promises)
    if (because !== null) terminal.out(`${because}\n`)
  if (judgesByPixels(walk.carried)) terminal.out(`judged by pixels alone: ${BY_PIXELS_REASON}\n`)
  const { horizontal, vertical } = walk.fieldOfViewDeg
  if (walk.image === null && (horizontal ?? vertical) !== null) {
    terminal.out(
      'the field of view cannot be read without the size of a still: write image under camera in walk.yaml\n',
    )
  }
  const mark = (walk.marks[0] ?? '16 m').replace(/\(.*/, '').replace(/\s/g, '')
  terminal.out(`put the stills there, named by their distance, such as stills/${lights[0]!}/${mark}.jpg\n`)
  for (const line of pickingLines(dir, walk.carried)) terminal.out(`${line}\n`)
  terminal.out(`Next: proofwalk plan ${shellWord(dir)}\n`)
}

/** How the stills come to their corners: a chart is found, everything else is clicked. */
function pickingLines(dir: string, carried: NewWalk['carried']): readonly string[] {
  const charts = carried.flatMap(({ reference }) => (isChart(reference) ? [reference.chart.paper] : []))
  const print = charts.map(
    (paper) =>
      `print the ${paper} chart and measure its frame: proofwalk chart --paper ${paper} --out chart-${paper}.pdf. It is found in the stills by itself`,
  )
  if (charts.length === carried.length) return [...print, `then measure: proofwalk measure ${shellWord(dir)}`]
  const what = charts.length === 0 ? 'of what is carried' : 'of what else is carried'
  return [...print, `click the corners ${what}: proofwalk pick ${shellWord(dir)}; then measure`]
}

async function asked(options: NewOptions): Promise<NewOptions> {
  const [{ askNewWalk }, { clackQuestions }] = await Promise.all([
    import('./askNewWalk.js'),
    import('./clackQuestions.js'),
  ])
  return askNewWalk(clackQuestions(), options, async (file) => {
    const still = await openStill(file)
    return still.ok ? null : still.message
  })
}

async function sizeOf(file: string): Promise<{ readonly width: number; readonly height: number }> {
  const still = await openStill(file)
  if (!still.ok) throw fault(still, { file, field: '--still' })
  return { width: still.value.width, height: still.value.height }
}
