import { isDeepStrictEqual } from 'node:util'
import { Document, isMap, isNode, isScalar, YAMLMap, type Pair } from 'yaml'
import { yamlComments } from '../../files/plainYaml.js'
import { walkDocument } from './writtenStills.js'

const LAYOUT = { lineWidth: 0, flowCollectionPadding: true } as const

/**
 * Changes one key of a YAML text's uppermost group and leaves every other letter of the text as it stands: comments, order, blank lines, spelling. `edit`
 * changes the document in memory; then only the lines of that key are written anew, with their comments. Where that cannot be done (the group is
 * written in braces, or lines hang on anchors) the whole document is written anew, which keeps comments and order as well.
 */
export function editTopKey(text: string, key: string, edit: (document: Document.Parsed) => void): string {
  const document = walkDocument(text)
  const before = yamlComments(text).length
  const pairBefore = topPair(document, key)
  const range = pairBefore === null ? null : linesOf(text, pairBefore)
  edit(document)
  const after = topPair(document, key)
  const whole = document.toString(LAYOUT)
  if (!isMap(document.contents) || document.contents.flow === true) return whole
  const piece = after === null ? '' : pieceOf(after)
  if (piece === null || (pairBefore !== null && range === null)) return whole
  const lines = text.includes('\r\n') ? piece.replaceAll('\n', '\r\n') : piece
  const spliced =
    range === null ? appended(text, lines) : `${text.slice(0, range[0])}${lines}${text.slice(range[1])}`
  const same = isDeepStrictEqual(walkDocument(spliced).toJS(), walkDocument(whole).toJS())
  const kept = yamlComments(spliced).length >= Math.min(before, yamlComments(whole).length)
  return same && kept ? spliced : whole
}

function topPair(document: Document, key: string): Pair | null {
  if (!isMap(document.contents)) return null
  return (
    document.contents.items.find((pair) => (isScalar(pair.key) ? pair.key.value : pair.key) === key) ?? null
  )
}

/** From the begin of the key's line to the end of the last line of its value; null where they share lines with something else. */
function linesOf(text: string, { key, value }: Pair): readonly [number, number] | null {
  if (!isScalar(key) || !key.range || !isNode(value) || !value.range) return null
  const from = key.range[0]
  if (from > 0 && text[from - 1] !== '\n') return null
  // the value's last own letter; what follows on its line is a comment of its own
  const lineEnd = text.indexOf('\n', Math.max(from, value.range[2] - 1))
  const to = text[value.range[2] - 1] === '\n' ? value.range[2] : lineEnd < 0 ? text.length : lineEnd + 1
  return [from, to]
}

/** The key and its value as lines of their own; null where they cannot stand alone. */
function pieceOf(pair: Pair): string | null {
  const document = new Document(new YAMLMap())
  const { key } = pair
  const above = isScalar(key) ? key.commentBefore : null
  try {
    if (isScalar(key)) key.commentBefore = null // it stands before the key's line, which is not touched
    ;(document.contents as unknown as YAMLMap).items.push(pair)
    return document.toString(LAYOUT)
  } catch {
    return null
  } finally {
    if (isScalar(key)) key.commentBefore = above ?? null
  }
}

function appended(text: string, lines: string): string {
  if (lines === '') return text
  const end = text === '' || text.endsWith('\n') ? '' : text.includes('\r\n') ? '\r\n' : '\n'
  return `${text}${end}${lines}`
}
