import { readdirSync, readFileSync } from 'node:fs'
import ts from 'typescript'
import { expect, test } from 'vitest'

const SOURCE = new URL('../src/', import.meta.url)

/** The exported functions of a source, by name, whose own body throws, or whose docstring says in prose that they throw, without an `@throws`. */
function untold(file: string, text: string): string[] {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true)
  return source.statements
    .filter(ts.isFunctionDeclaration)
    .filter(({ modifiers }) => modifiers?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) === true)
    .filter(
      (one) => (one.body !== undefined && throws(one.body)) || /(^|[.)*] )Throws\s/m.test(docstringOf(one)),
    )
    .filter((one) => !ts.getJSDocTags(one).some(({ tagName }) => tagName.text === 'throws'))
    .map(({ name }) => `${file}: ${name?.text}`)
}

function docstringOf(node: ts.Node): string {
  return ts
    .getJSDocCommentsAndTags(node)
    .map((one) => one.getText())
    .join('\n')
}

/** Whether a throw stands in a node itself, not in a function inside it, nor one that an own catch takes. */
function throws(node: ts.Node): boolean {
  if (ts.isThrowStatement(node)) return true
  if (ts.isFunctionLike(node)) return false
  if (ts.isTryStatement(node) && node.catchClause !== undefined)
    return throws(node.catchClause) || (node.finallyBlock !== undefined && throws(node.finallyBlock))
  return ts.forEachChild(node, (child) => throws(child) || undefined) === true
}

test('an exported function that throws says so by @throws', () => {
  const files = readdirSync(SOURCE, { recursive: true })
    .map(String)
    .filter((file) => /\.tsx?$/.test(file) && !file.endsWith('.d.ts'))
  expect(files.length).toBeGreaterThan(300)
  expect(files.flatMap((file) => untold(file, readFileSync(new URL(file, SOURCE), 'utf8')))).toEqual([])
})

test('a throw is seen in the body itself, and not where it is told, caught or of an inner function', () => {
  const seen = (text: string): string[] => untold('a.ts', text)
  expect(seen('export function bad() { if (1) throw new Error() }')).toEqual(['a.ts: bad'])
  expect(seen('/** It reads. */\nexport async function bad() { throw new Error() }')).toEqual(['a.ts: bad'])
  expect(seen('export function bad() { try { f() } catch (error) { throw error } }')).toEqual(['a.ts: bad'])
  expect(
    seen('/**\n * It reads.\n * @throws Error always\n */\nexport function good() { throw new Error() }'),
  ).toEqual([])
  expect(seen('/** It reads. Throws where it cannot. */\nexport function bad() { read() }')).toEqual([
    'a.ts: bad',
  ])
  expect(seen('/** Never throws for a bad still. */\nexport function good() { read() }')).toEqual([])
  expect(seen('export function good() { return () => { throw new Error() } }')).toEqual([])
  expect(seen('export function good() { try { throw new Error() } catch { return 1 } }')).toEqual([])
  expect(seen('function inner() { throw new Error() }')).toEqual([])
})
