import { dirname, join, basename } from 'node:path'
import { optionAsTyped } from '../terminal/optionValues.js'
import { shellWord } from '../terminal/shellWord.js'
import { chartPaper } from '../../chart/printed/chartPapers.js'
import { ProofwalkError, ProofwalkErrors } from '../../errors.js'
import { fault, type Said } from '../../sentences.js'
import { cliSays, STILL_OPTIONS } from '../sentences.js'
import { readSays } from '../../walk/read/sentences.js'
import { chartReference } from '../../measure/reference/chartReference.js'
import { type Pick, HAND_SIGMA_PX } from '../../measure/reference/pick.js'
import type { Ends, Quad } from '../../math/point.js'
import type { UnitSystem } from '../../units/formatLength.js'
import { parseLength } from '../../units/parseLength.js'
import { printedWidthFault } from '../../walk/read/chartFaults.js'
import { measureSingle } from '../../walk/measure/measureSingle.js'
import { parsePoints } from '../../walk/read/parsePoints.js'
import { parseReference } from '../../walk/read/parseReference.js'
import { walkAround } from '../../walk/read/readWalk.js'
import { type FoundGrading, readGrading } from '../../walk/read/readGrading.js'
import type { ChartSearch, PickedReference } from '../../walk/stills/stillTask.js'
import { stillTable } from './stillTable.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options `measure` takes for one still, as typed. */
export interface SingleStillOptions {
  readonly reference?: string
  readonly corners?: string
  readonly ends?: string
  readonly chart?: string
  readonly printedWidth?: string
  readonly strip?: string
  readonly sigma?: string
  readonly distance?: string
  readonly grading?: string
  readonly feet?: true
  readonly json?: true
}

/**
 * Measures one still with no walk and prints its figures, or with --json the entry it would have in results.json.
 * @throws `ProofwalkError` where an option is missing, out of place or no value, or the still cannot be measured
 */
export async function measureOneStill(
  path: string,
  options: SingleStillOptions,
  terminal: Terminal,
): Promise<void> {
  if (options.reference === undefined && options.chart === undefined) {
    const dir = await walkAround(dirname(path))
    if (dir !== null) throw fault(cliSays['still-of-walk'](dir, shellWord(dir)), { file: path })
  }
  const grading = await gradingOf(options.grading ?? 'iec-62676-4-2014')
  const subject = options.chart === undefined ? pickedOf(options) : chartOf(options.chart, options)
  const entry = await measureSingle({
    path,
    subject,
    distanceM: options.distance === undefined ? null : lengthOf('distance', options.distance, '16m'),
    grading: grading.grading,
    judge: 'detail',
  })
  if (!entry.ok) throw fault(entry, { file: path })
  if (options.json === true) terminal.out(`${JSON.stringify(entry.value, null, 2)}\n`)
  else
    terminal.out(
      `${stillTable(entry.value, grading.grading, unitsOf(options))}\n${await nextAfterStill(path)}\n`,
    )
  terminal.setStatus(0)
}

/** Feet where they are asked for, or where a length is typed in feet or inches. */
function unitsOf({ feet, reference, distance, printedWidth }: SingleStillOptions): UnitSystem {
  const typed = [reference, distance, printedWidth].some(
    (text) => text !== undefined && /\d\s*(ft|feet|foot|in|inch|inches|['"])(?![a-z])/i.test(text),
  )
  return feet === true || typed ? 'imperial' : 'metric'
}

function pickedOf(options: SingleStillOptions): PickedReference {
  if (options.printedWidth !== undefined)
    throw optionFault('printed-width', cliSays['option-out-of-place']('width-without-chart'))
  const reference = parseReference(required(options, 'reference'))
  if (!reference.ok) throw optionFault('reference', reference)
  const pick = pickOf(options, reference.value.kind)
  const strip = stripOf(options)
  if (reference.value.kind === 'length' && strip.strip !== undefined)
    throw optionFault('strip', cliSays['option-out-of-place']('strip-of-length'))
  return { kind: 'picked', reference: { ...reference.value, ...strip }, pick, pickedSha256: null }
}

function chartOf(id: string, options: SingleStillOptions): ChartSearch {
  for (const option of ['reference', 'corners', 'ends', 'sigma'] as const) {
    if (options[option] !== undefined)
      throw optionFault(option, cliSays['option-out-of-place']('chart-alone'))
  }
  const paper = chartPaper(id)
  if (paper === undefined) throw optionFault('chart', readSays['unknown-paper'](id))
  const { printedWidth } = options
  const width = printedWidth === undefined ? null : lengthOf('printed-width', printedWidth, '485mm')
  const unlikely = width === null ? null : printedWidthFault(paper.id, width)
  if (unlikely !== null) throw optionFault('printed-width', unlikely)
  return {
    kind: 'chart',
    charts: [{ ...chartReference('chart', paper, width), ...stripOf(options) }],
    elseMend: null,
  }
}

/** The paper of the strips under the reference. */
function stripOf({ strip }: SingleStillOptions): { readonly strip?: string } {
  if (strip === undefined) return {}
  const paper = chartPaper(strip)
  if (paper === undefined) throw optionFault('strip', readSays['unknown-paper'](strip))
  return { strip: paper.id }
}

/** A built-in grading, or that of a file, which may lie anywhere where there is no walk. */
async function gradingOf(named: string): Promise<FoundGrading> {
  const isPath = /[/\\]/.test(named)
  try {
    return await readGrading(isPath ? dirname(named) : '.', isPath ? `./${basename(named)}` : named)
  } catch (error) {
    if (
      !(error instanceof ProofwalkError) ||
      error instanceof ProofwalkErrors ||
      error.place.file !== undefined
    )
      throw error
    const { code, message, place } = error
    throw fault({ code, message }, { ...place, field: '--grading' })
  }
}

function pickOf(options: SingleStillOptions, kind: 'rectangle' | 'length'): Pick {
  const other = kind === 'length' ? 'corners' : 'ends'
  if (options[other] !== undefined) throw optionFault(other, cliSays['points-of-other-kind'](kind))
  const sigmaPx = options.sigma === undefined ? HAND_SIGMA_PX : sigmaOf(options.sigma)
  if (kind === 'length') {
    const ends = parsePoints(required(options, 'ends'), 2)
    if (!ends.ok) throw optionFault('ends', { ...ends, mend: STILL_OPTIONS.ends })
    return { kind: 'ends', method: 'hand', sigmaPx, ends: ends.value as unknown as Ends }
  }
  const corners = parsePoints(required(options, 'corners'), 4)
  if (!corners.ok) throw optionFault('corners', { ...corners, mend: STILL_OPTIONS.corners })
  return { kind: 'corners', method: 'hand', sigmaPx, corners: corners.value as unknown as Quad }
}

function sigmaOf(text: string): number {
  const sigmaPx = /^\d+(\.\d+)?$/.test(text) ? Number(text) : NaN
  if (sigmaPx > 0 && sigmaPx <= 100) return sigmaPx
  throw optionFault('sigma', cliSays['bad-sigma'](text))
}

function lengthOf(option: string, text: string, example: string): number {
  const length = parseLength(text, /[a-z]+$/.exec(example)?.[0])
  if (!length.ok) throw optionFault(option, length)
  if (length.value > 0) return length.value
  throw optionFault(option, cliSays['not-above-nought'](option, example))
}

function required(options: SingleStillOptions, option: keyof typeof STILL_OPTIONS): string {
  const value = options[option]
  if (value !== undefined) return value
  throw optionFault(option, cliSays['option-missing'](option))
}

function optionFault(option: string, said: Said): ProofwalkError {
  return fault(said, { field: optionAsTyped(option) })
}

/**
 * What a person would do after measuring one still: where it lies in a walk (`DIR/stills/<light>/FILE`), measure that walk, once its corners are
 * in the walk's picks; else begin a walk.
 */
export async function nextAfterStill(path: string): Promise<string> {
  const dir = await walkAround(dirname(path))
  if (dir === null) return 'Next: proofwalk new my-camera'
  return `Next: put its points into ${join(dir, 'picks.json')}, then proofwalk measure ${shellWord(dir)}`
}
