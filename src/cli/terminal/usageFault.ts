import { suggestNearest } from '../../files/suggestNearest.js'

/**
 * What commander says of a command line that is at fault, as one line of ours with its mend: the near miss, the choices, or where the help
 * of that command is.
 */
export function usageFault(text: string, command = 'proofwalk'): string {
  const [message = '', hint] = text
    .replace(/^error: /, '')
    .trim()
    .split('\n')
  const told = message.replace(/\.$/, '').replace(/\. (?=[A-Z])/, '; ')
  const meant = /^\(Did you mean (.+)\?\)$/.exec(hint ?? '')?.[1] ?? nearestChoice(message)
  if (meant !== null) return `proofwalk: ${told}; did you mean ${meant}?\n`
  const mended = /Allowed choices|It must be/.test(message)
  return `proofwalk: ${told}${mended ? '' : `; see ${command} --help`}\n`
}

/** The choice that was most likely meant, where commander lists the choices without saying so. */
function nearestChoice(message: string): string | null {
  const typed = /(?:value|argument) '([^']*)' is invalid/.exec(message)?.[1]
  const choices = /Allowed choices are (.+)\.$/.exec(message)?.[1]?.split(', ')
  return typed === undefined || choices === undefined ? null : suggestNearest(typed, choices)
}
