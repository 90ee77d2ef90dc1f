import { existsSync, readFileSync } from 'node:fs'
import { Help } from 'commander'

/** The text of a topic, its paragraphs wrapped to the columns, or null where it has none. A line that begins with four blanks stays as it is. */
export function topicText(topic: string, columns: number): string | null {
  const file = new URL(`./texts/${topic}.txt`, import.meta.url)
  if (!existsSync(file)) return null
  const helper = new Help()
  return readFileSync(file, 'utf8').replace(
    /^( {0,3}(?:- )?)(\S.*)$/gm,
    (_line, lead: string, text: string) => {
      const wrapped = helper.boxWrap(text, columns - lead.length)
      return lead + wrapped.replaceAll('\n', `\n${' '.repeat(lead.length)}`)
    },
  )
}
