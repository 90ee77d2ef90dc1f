import { isMap, isSeq, parseDocument, type Document, type YAMLMap } from 'yaml'
import { plainPath } from '../schemas/fieldSchemas.js'

/** A still's entry in walk.yaml, in the words it is written in. */
export interface WrittenStill {
  readonly file: string
  readonly mark: string
  readonly light: string
  readonly reference: string | null
}

/** How the text of a walk is read where it is to be changed: every scalar as it was written. */
export function walkDocument(text: string): Document.Parsed {
  return parseDocument(text, { schema: 'failsafe', version: '1.2', prettyErrors: false })
}

/** The entries of `stills` in a walk's text that is known to be sound, by the path they are compared by. */
export function writtenStills(text: string): ReadonlyMap<string, WrittenStill> {
  const stills: unknown = walkDocument(text).get('stills')
  if (!isSeq(stills)) return new Map()
  const entries = stills.items.filter(isMap).map((item) => {
    const written = writtenStill(item)
    return [plainPath(written.file), written] as const
  })
  return new Map(entries)
}

/** One entry of `stills`. */
export function writtenStill(item: YAMLMap): WrittenStill {
  const word = (key: string): string | null => {
    const value: unknown = item.get(key)
    return typeof value === 'string' ? value : null
  }
  return {
    file: word('file') ?? '',
    mark: word('mark') ?? '',
    light: word('light') ?? '',
    reference: word('reference'),
  }
}
