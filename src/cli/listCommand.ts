import type { Command } from 'commander'
import { builtInGradings, type BuiltInGrading } from '../grade/builtInGradings.js'
import { referencePresets, type ReferencePreset } from '../measure/referencePresets.js'
import type { Terminal } from './terminal.js'
import { textTable } from './textTable.js'

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
    .description('Lists the references of known size: plates, cards, sheets of paper, with their tolerance.')
    .option('--json', 'print one JSON document instead of the table')
    .addHelpText('after', '\nExample:\n  proofwalk list references')
    .action(({ json }: { json?: true }) => {
      if (json === true) terminal.out(`${JSON.stringify({ references: referencePresets }, null, 2)}\n`)
      else terminal.out(`${referencesText()}\nNext: proofwalk new my-camera --carry plate-eu\n`)
    })
}

function gradingText({ grading, status, tasks }: BuiltInGrading): string {
  const rows = grading.grades.map(({ id, name, limit }) => ({
    cells: [id, name, String(limit), String(Number((1000 / limit).toPrecision(3)))],
  }))
  const table = textTable(['grade', 'name', 'px/m', 'mm/px'], rows, ['left', 'left', 'right', 'right'])
  const asked = tasks.map(({ task, grade, note }) => `  to ${task}: ${grade} (${note})\n`).join('')
  return `${grading.name} (${grading.id})\n  ${grading.source}\n  ${status}\n\n${table}\n${asked}`
}

function referencesText(): string {
  const rows = referencePresets.map((preset) => ({
    cells: [preset.id, sizeText(preset), `+/-${preset.toleranceMm}`, preset.status, preset.name],
    note: `${preset.source}\n      tolerance: ${preset.toleranceSource}`,
  }))
  return textTable(['reference', 'mm', 'tolerance', 'checked', 'what it is'], rows)
}

function sizeText(preset: ReferencePreset): string {
  return preset.kind === 'length' ? `${preset.lengthMm} long` : `${preset.widthMm} x ${preset.heightMm}`
}
