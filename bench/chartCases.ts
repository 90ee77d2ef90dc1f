// What is told of charts as people hold them wrongly: measured rightly, refused or told by a code, or wrong in silence. Arguments: stills per row (12),
// a part of the rows' names. KEEP=DIR keeps the stills there and takes them from there the next time, WRONG=1 names those that are
// told otherwise than they should be.
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { mkdtemp } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { CHART_PAPERS } from '../src/chart/printed/chartPapers.js'
import { builtInGrading } from '../src/grade/gradings/builtInGradings.js'
import { seededRandom, type Random } from '../src/math/random.js'
import { chartReference } from '../src/measure/reference/chartReference.js'
import type { TargetTruth } from '../src/simulate/camera/targetTruth.js'
import { measureSingle } from '../src/walk/measure/measureSingle.js'
import { caseRows, type CaseRow } from '../tests/support/caseRows.js'
import { takeCase, type CaseView, type Spoilt } from '../tests/support/caseStill.js'

// What is told of charts as people hold them wrongly: measured rightly, refused or told by a code, or wrong in silence. Arguments: stills per row (12),
// a part of the rows' names. Runs bundled; KEEP=DIR keeps the stills there and takes them from there the next time, WRONG=1 names those that are
// told otherwise than they should be.

const perRow = Number(process.argv[2] ?? 12)
// Large sheets: half a millimetre of the frame's size is little of their interval.
const papers = CHART_PAPERS.filter(({ widthM }) => widthM > 0.5)
const only = process.argv[3]
const keep = process.env.KEEP
if (keep !== undefined) mkdirSync(keep, { recursive: true })
const home = await mkdtemp(join(tmpdir(), 'proofwalk-cases-'))
const grading = builtInGrading('iec-62676-4-2014')!
let [stills, silent] = [0, 0]
try {
  console.log(
    '| case | px per module | within U / of it told | outside, told | outside, silent | worst error over U | refused |',
  )
  console.log('|---|---|---|---|---|---|---|')
  for (const row of caseRows()) {
    if (only !== undefined && !row.name.includes(only)) continue
    for (const p of row.sizes) console.log(`| ${row.name} | ${p} | ${await cell(row, p)} |`)
  }
  console.log(`${stills} stills, ${silent} wrong in silence`)
} finally {
  rmSync(home, { recursive: true, force: true })
}

async function cell(row: CaseRow, p: number): Promise<string> {
  const refused = new Map<string, number>()
  const codes = new Map<string, number>()
  let [inside, insideTold, outsideTold, outsideSilent, worst, cpu] = [0, 0, 0, 0, 0, 0]
  for (let n = 0; n < perRow; n += 1) {
    const random = seededRandom(Math.round(1000 * p) + 31 * row.name.length + 7919 * n)
    const paper = papers[Math.floor(random.uniform() * papers.length)]!
    const view = {
      paper,
      pixelsPerModule: p,
      yawDeg: 40 * random.uniform() - 20,
      pitchDeg: 16 * random.uniform() - 8,
      rollDeg: 20 * random.uniform() - 10,
    }
    const { view: seen, spoilt } = row.make(view, n, random)
    const name = `${row.name} p${p} ${n}`.replace(/[^a-z0-9.]+/gi, '-')
    const path = join(keep ?? home, keep === undefined ? 'still.jpg' : `${name}.jpg`)
    const truth = await stillAt(path, seen, spoilt, random)
    const begin = process.cpuUsage().user
    const measured = await measureSingle({
      path,
      subject: { kind: 'chart', charts: [chartReference('chart', paper, null)], elseMend: null },
      distanceM: truth.distanceM,
      grading,
      judge: 'detail',
    })
    cpu += (process.cpuUsage().user - begin) / 1000
    stills += 1
    let isWrong = false
    let lastOff = 0
    if (!measured.ok) {
      refused.set(measured.code, (refused.get(measured.code) ?? 0) + 1)
      isWrong = row.told !== undefined && !row.told.includes(measured.code)
    } else {
      const { horizontal, horizontalU, vertical, verticalU } = measured.value.density
      const off = Math.max(
        Math.abs(horizontal! - truth.horizontalPxPerM) / horizontalU!,
        Math.abs(vertical! - truth.verticalPxPerM) / verticalU!,
      )
      const told = measured.value.problems.map(({ code }) => code).filter((code) => row.codes.includes(code))
      for (const code of told) codes.set(code, (codes.get(code) ?? 0) + 1)
      // 95 % intervals of two axes: one in ten is a little outside.
      lastOff = off
      if (off > worst) worst = off
      const isOut = off > 1.5 || row.mayNotBeMeasured === true
      if (!isOut) {
        inside += 1
        if (told.length > 0) insideTold += 1
      } else if (told.length > 0) outsideTold += 1
      else {
        outsideSilent += 1
        silent += 1
      }
      isWrong = isOut
    }
    if (isWrong && process.env.WRONG !== undefined)
      console.log(`  ${name}: ${measured.ok ? `measured, off by ${lastOff.toFixed(1)} U` : measured.code}`)
  }
  const list = (of: Map<string, number>): string =>
    [...of].map(([code, count]) => `${code} ${count}`).join(', ')
  return `${inside} / ${insideTold} | ${outsideTold} | ${outsideSilent} | ${worst.toFixed(1)} | ${list(refused) || '-'}${codes.size > 0 ? ` (told: ${list(codes)})` : ''} | ${(cpu / perRow).toFixed(0)} ms`
}

/** Takes the still, or the one that was kept, and what is true of it. */
async function stillAt(path: string, view: CaseView, spoilt: Spoilt, random: Random): Promise<TargetTruth> {
  const beside = path.replace(/jpg$/, 'json')
  if (keep !== undefined && existsSync(beside)) return JSON.parse(readFileSync(beside, 'utf8')) as TargetTruth
  const { bytes, truth } = await takeCase(view, spoilt, random)
  writeFileSync(path, bytes)
  if (keep !== undefined) writeFileSync(beside, JSON.stringify(truth))
  return truth
}
