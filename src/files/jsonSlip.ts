import { JSON_SLIPS } from './sentences.js'

/** Where a text stops being JSON, and why; line and column are counted from 1. */
export interface JsonSlip {
  readonly line: number
  readonly column: number
  readonly message: string
}

type Expected = 'value' | 'value or ]' | 'key' | 'key or }' | ':' | 'after a value'

const tokenPattern = /[{}[\],:]|"(?:[^"\\\p{Cc}]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"|[^\s{}[\],:"]+/uy
const plainValue = /^(?:true|false|null|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?)$/

/** The first place where a text stops being JSON, or null where it is sound: RFC 8259. */
export function jsonSlip(text: string): JsonSlip | null {
  const open: ('{' | '[')[] = []
  let expected: Expected = 'value'
  let at = 0
  let comma = -1
  const slip = (place: number, message: string): JsonSlip => {
    const before = text.slice(0, place).split('\n')
    return { line: before.length, column: before.at(-1)!.length + 1, message }
  }
  for (;;) {
    while (/[ \t\r\n]/.test(text[at] ?? '')) at++
    const inside = open.at(-1)
    if (at >= text.length) {
      if (inside !== undefined) return slip(at, JSON_SLIPS.ends(inside === '{' ? '}' : ']'))
      return expected === 'after a value' ? null : slip(at, JSON_SLIPS[expected])
    }
    tokenPattern.lastIndex = at
    const token = tokenPattern.exec(text)?.[0] ?? ''
    if (token === '') {
      return slip(at, JSON_SLIPS[text[at] === '"' ? 'unclosed' : 'no JSON'])
    }
    if (expected === 'after a value') {
      if (token === ',' && inside !== undefined) {
        expected = inside === '{' ? 'key' : 'value'
        comma = at
      } else if (token === (inside === '{' ? '}' : ']') && inside !== undefined) open.pop()
      else if (inside === undefined) return slip(at, JSON_SLIPS['more after the end'])
      else return slip(at, JSON_SLIPS['no comma'](inside === '{' ? '}' : ']'))
    } else if (token === '}' || token === ']') {
      if (expected !== (token === '}' ? 'key or }' : 'value or ]')) {
        const trailing = comma >= 0 && text.slice(comma + 1, at).trim() === ''
        return trailing ? slip(comma, JSON_SLIPS['comma too many']) : slip(at, JSON_SLIPS[expected])
      }
      open.pop()
      expected = 'after a value'
    } else if (expected === ':') {
      if (token !== ':') return slip(at, JSON_SLIPS[':'])
      expected = 'value'
    } else if (expected === 'key' || expected === 'key or }') {
      if (!token.startsWith('"')) return slip(at, JSON_SLIPS[expected])
      expected = ':'
    } else if (token === '{' || token === '[') {
      open.push(token)
      expected = token === '{' ? 'key or }' : 'value or ]'
    } else if (token.startsWith('"') || plainValue.test(token)) expected = 'after a value'
    else return slip(at, JSON_SLIPS[/[,:]/.test(token) ? expected : 'no value'])
    at += token.length
  }
}
