import { escaped } from '../../files/oneLine.js'
import { gradeNameOf, limitsOf } from '../../grade/gradings/grading.js'
import { gradeStill } from '../../grade/gradings/gradeStill.js'
import { figuresFor } from '../../units/figures.js'
import { planMeasuring } from '../../walk/measure/planMeasuring.js'
import type { StillRunner } from '../../walk/measure/stillRunner.js'
import type { Walk } from '../../walk/read/walk.js'
import { readWalk } from '../../walk/read/readWalk.js'
import type { StillTaskResult } from '../../walk/stills/stillTask.js'
import type { Terminal } from '../terminal/terminal.js'

/**
 * Measures those of a walk's stills that are among the files, and prints a row of each: its density and grade by itself, or why there is none.
 * @throws `ProofwalkErrors` where walk.yaml or picks.json is at fault
 */
export async function showStills(
  dir: string,
  files: ReadonlySet<string>,
  runner: StillRunner,
  terminal: Terminal,
): Promise<void> {
  const walk = await readWalk(dir)
  const { tasks } = await planMeasuring(walk)
  // A chart that is looked for beside what was picked is no still of its own.
  const shown = tasks.filter(
    ({ file, subject }) => files.has(file) && !(subject.kind === 'chart' && subject.beside === true),
  )
  const row = async (task: (typeof tasks)[number]): Promise<void> =>
    terminal.out(`${escaped(task.file)}: ${stillRow(await runner.run(task), walk)}\n`)
  await Promise.all(shown.map(row))
}

function stillRow(result: StillTaskResult, walk: Walk): string {
  if (!result.ok) return result.message
  const { reference, measurement } = result
  const figures = figuresFor(walk.units, limitsOf(walk.grading))
  const density = { ...measurement.density, value: measurement.density.onTarget }
  const grade = gradeNameOf(gradeStill(measurement, walk.grading, walk.judge, null).grade, walk.grading)
  return `${reference.name}, ${figures.density(density).value} ${figures.densityUnit} (${figures.interval(density)}), ${grade}`
}
