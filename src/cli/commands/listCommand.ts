import type { Command } from 'commander'
import { FRAME_HEIGHT_MODULES, FRAME_WIDTH_MODULES, moduleM } from '../../chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../../chart/printed/chartPapers.js'
import { builtInGradings, type BuiltInGrading } from '../../grade/gradings/builtInGradings.js'
import { askedDetail } from '../../grade/gradings/grading.js'
import { referencePresets, type ReferencePreset } from '../../measure/reference/referencePresets.js'
import { besideMetric, figuresFor, trimmed } from '../../units/figures.js'
import { INCH_M } from '../../units/formatLength.js'
import type { Terminal } from '../terminal/terminal.js'
import { textTable } from '../terminal/textTable.js'

/** Pixels to a module from which the chart is found by day: trials on simulated stills, in the table for developers. */
const LEAST_PIXELS_PER_MODULE = 1.5

const inMetres = figuresFor('metric')
const inFeet = figuresFor('imperial')

/** `list gradings` and `list references`: what is built in, each with its published source. */
export function addListCommand(program: Command, terminal: Terminal): void {
  const list = program
    .command('list')
    .summary('list the gradings or references that are built in')
    .description('Lists what is built in, each with its published source.')
    .addHelpText('after', '\nExamples:\n  proofwalk list gradings\n  proofwalk list references --json')
  list
    .command('gradings')
    .description('Lists the gradings: their grades with the least density, and which grade a task asks for.')
    .option('--json', 'print one JSON document instead of the tables')
    .addHelpText('after', '\nExample:\n  proofwalk list gradings')
    .action(({ json }: { json?: true }) => {
      if (json === true) terminal.out(`${JSON.stringify({ gradings: builtInGradings }, null, 2)}\n`)
      else terminal.out(`${builtInGradings.map(gradingText).join('\n')}\nNext: proofwalk new my-camera\n`)
    })
  list
    .command('references')
    .description(
      'Lists the references of known size: plates, cards, sheets of paper, with their tolerance, and the papers of the printed chart.',
    )
    .option('--json', 'print one JSON document instead of the table')
    .addHelpText('after', '\nExample:\n  proofwalk list references')
    .action(({ json }: { json?: true }) => {
      if (json === true)
        terminal.out(`${JSON.stringify({ references: referencePresets, charts: chartSizes() }, null, 2)}\n`)
      else
        terminal.out(`${referencesText()}\n${chartsText()}\nNext: proofwalk new my-camera --carry plate-eu\n`)
    })
}

function gradingText({ grading, status, tasks }: BuiltInGrading): string {
  const rows = grading.grades.map(({ id, name, limit }) => ({
    cells: [
      id,
      name,
      inMetres.bareLimit(limit),
      inFeet.ownLimit(limit),
      String(Number((1000 / limit).toPrecision(3))),
      inMetres.stroke(askedDetail({ limit }, grading)),
      inFeet.stroke(askedDetail({ limit }, grading)),
    ],
  }))
  const right = ['px/m', 'px/ft', 'mm/px', 'finest stroke, mm', 'in']
  const table = textTable(['grade', 'name', ...right], rows, [
    'left',
    'left',
    ...right.map(() => 'right' as const),
  ])
  const asked = tasks
    .map(({ task, grade, note }) => `  to ${task}: ${grade} (${besideMetric(note)})\n`)
    .join('')
  return `${grading.name} (${grading.id})\n  ${grading.source}\n  ${status}\n\n${table}\n${asked}`
}

function referencesText(): string {
  const rows = referencePresets.map((preset) => ({
    cells: [
      preset.id,
      sizeText(preset),
      inchesText(preset),
      `+/-${preset.toleranceMm}`,
      preset.status,
      preset.name,
    ],
    note: `${preset.source}\n      tolerance: ${preset.toleranceSource}`,
  }))
  return textTable(['reference', 'mm', 'in', 'tolerance, mm', 'checked', 'what it is'], rows)
}

/** A paper of the printed chart: its sheet, the outside of its black frame and one module at true scale, mm. */
interface ChartSize {
  readonly paper: string
  readonly sheetMm: readonly [number, number]
  readonly frameMm: readonly [number, number]
  readonly moduleMm: number
}

function chartSizes(): ChartSize[] {
  const mm = (lengthM: number): number => Number((1000 * lengthM).toFixed(2))
  return CHART_PAPERS.map((paper) => {
    const module = moduleM(paper)
    return {
      paper: paper.id,
      sheetMm: [mm(paper.widthM), mm(paper.heightM)],
      frameMm: [mm(FRAME_WIDTH_MODULES * module), mm(FRAME_HEIGHT_MODULES * module)],
      moduleMm: mm(module),
    }
  })
}

function chartsText(): string {
  const rows = chartSizes().map(({ paper, sheetMm, frameMm, moduleMm }) => ({
    cells: [
      paper,
      sheetMm.join(' x '),
      frameMm.map((side) => side.toFixed(1)).join(' x '),
      frameMm.map((side) => (side / 1000 / INCH_M).toFixed(2)).join(' x '),
      moduleMm.toFixed(2),
      besideMetric(`${inMetres.plainDensity((1000 * LEAST_PIXELS_PER_MODULE) / moduleMm)} px/m`),
    ],
  }))
  const heads = ['chart', 'sheet, mm', 'black frame, mm', 'in', 'module, mm', 'found from']
  const note =
    '  proofwalk chart --paper A2 --out chart.pdf prints one; found from: by day, in focus. Sheets: ISO 216:2007 and ANSI/ASME Y14.1;\n' +
    "  frame and module: this project's convention. Each paper's chart has a face of its own, which distinguishes it from the others.\n"
  return `${textTable(heads, rows)}\n${note}`
}

function inchesText(preset: ReferencePreset): string {
  const sidesMm = preset.kind === 'length' ? [preset.lengthMm] : [preset.widthMm, preset.heightMm]
  return sidesMm.map((sideMm) => trimmed(sideMm / 1000 / INCH_M, 2)).join(' x ')
}

function sizeText(preset: ReferencePreset): string {
  return preset.kind === 'length' ? `${preset.lengthMm} long` : `${preset.widthMm} x ${preset.heightMm}`
}
