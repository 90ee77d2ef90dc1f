import type { Command } from 'commander'
import { fault } from '../../sentences.js'
import { suggestNearest } from '../../files/suggestNearest.js'
import { cliSays } from '../sentences.js'
import type { Terminal } from '../terminal/terminal.js'
import { codeText, explainedCodes } from './codeTable.js'
import { HELP_TOPICS } from './helpTopics.js'
import { topicText } from './topicText.js'

/** Lines longer than this are hard to read, however wide the terminal. */
const WIDEST = 100

/**
 * Prints all there is under a name, however it is capitalised: the help of a command, the text of a topic, and the codes of a topic or the code itself.
 * @throws ProofwalkError `unknown-topic` where there is nothing under that name, `no-codes` where codes are asked for as JSON and there are none
 */
export function printHelp(typed: string, asJson: boolean, program: Command, terminal: Terminal): void {
  const name = typed.toLowerCase()
  const columns = Math.min(terminal.columns, WIDEST)
  const isAll = name === 'codes' || name === 'messages'
  const known = explainedCodes()
  const codes = known.filter(({ code, topic }) => isAll || topic === name || code === name)
  const command = program.commands.find((one) => one.name() === name)
  const text = Object.hasOwn(HELP_TOPICS, name) ? topicText(name, columns) : null
  if (codes.length === 0 && command === undefined && text === null) {
    const names = [
      program.commands.map((one) => one.name()),
      Object.keys(HELP_TOPICS),
      known.map(({ code }) => code),
    ]
    throw fault(cliSays['unknown-topic'](typed, suggestNearest(name, names.flat())))
  }
  if (asJson) {
    if (codes.length === 0) throw fault(cliSays['no-codes'](typed))
    terminal.out(`${JSON.stringify({ codes }, null, 2)}\n`)
    return
  }
  command?.outputHelp()
  const parts = [text, codes.length === 0 ? null : codeText(codes, columns)].filter((part) => part !== null)
  if (parts.length > 0) terminal.out(`${command === undefined ? '' : '\n'}${parts.join('\n')}`)
}
