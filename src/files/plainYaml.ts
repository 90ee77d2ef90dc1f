import { Parser, type CST } from 'yaml'

/** The comments of a YAML text in their order; `offset` counts UTF-16 units, `source` begins with `#`. */
export function yamlComments(text: string): CST.SourceToken[] {
  const comments: CST.SourceToken[] = []
  const collect = (token: unknown): void => {
    if (Array.isArray(token)) token.forEach(collect)
    else if (typeof token === 'object' && token !== null) {
      if ('type' in token && token.type === 'comment') comments.push(token as CST.SourceToken)
      Object.values(token).forEach(collect)
    }
  }
  for (const token of new Parser().parse(text)) collect(token)
  return comments.sort((a, b) => a.offset - b.offset)
}

/**
 * A YAML text without its comments. Every comment is cut from its `#` to the end of its line, with the blanks and tabs before it; where nothing else
 * stood on the line, the line goes with its end. All else stays as it was, byte for byte: a text without comments is its own plain text.
 */
export function plainYaml(text: string): string {
  let plain = ''
  let from = 0
  for (const { offset, source } of yamlComments(text)) {
    plain = (plain + text.slice(from, offset)).replace(/(?<![ \t])[ \t]+$/, '')
    from = offset + source.length
    if (plain === '' || plain.endsWith('\n')) from += /^\r?\n?/.exec(text.slice(from, from + 2))![0].length
  }
  return plain + text.slice(from)
}
