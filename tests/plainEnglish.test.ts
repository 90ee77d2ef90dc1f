import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'
import { describe, expect, it, test } from 'vitest'

const SOURCE = fileURLToPath(new URL('../src', import.meta.url))
const MOST_WORDS = 25

/** Words a reader at home in English stumbles on, each with what to say instead. */
const BANNED: readonly (readonly [RegExp, string])[] = [
  [/\b(told|untold|foretold|foretell)\b/i, 'reported, known, predicted'],
  [/(?<!there )\b(is|are) no (?!longer\b|more\b)/i, 'is not a'],
  [/\btap(e|es|ed|ing)\b(?! measure)/i, 'tape measure: a tape alone is sticky'],
  [/\b(gone|goes|go) on with\b/i, 'Proofwalk uses'],
  [/\bhangs? on\b/i, 'depends on'],
  [/\bnoughts?\b/i, 'zero'],
  [/\banew\b/i, 'again'],
  [/\banother hand\b/i, 'elsewhere'],
  [/\bthan is meant here\b|\bso many median ones\b/i, 'say it in the order of English'],
]

/** What a fact of a sentence prints as; a fact that is a sentence itself is counted by itself. */
const SAMPLES: Readonly<Record<string, string>> = {
  why: '. Why.',
  told: '. Reported.',
  counted: '123.3 to 129.5 px/m with detail at the 16 m mark',
  density: 'density unchanged',
}

/** Every wording of an expression that makes text, whichever way its conditions fall; what is not in the file prints as one word. */
function wordings(node: ts.Node, known: ReadonlyMap<string, ts.Node>, depth = 0): string[] {
  const inner = (one: ts.Node): string[] => wordings(one, known, depth + 1)
  const named = (name: string): string[] => {
    const found = known.get(name)
    return found === undefined || depth > 12 ? [SAMPLES[name] ?? '16.5'] : inner(found)
  }
  if (ts.isStringLiteralLike(node)) return [node.text]
  if (ts.isTemplateExpression(node))
    return node.templateSpans.reduce<string[]>(
      (texts, span) => pairs(texts, inner(span.expression)).map((text) => text + span.literal.text),
      [node.head.text],
    )
  if (ts.isConditionalExpression(node)) return [...inner(node.whenTrue), ...inner(node.whenFalse)]
  if (ts.isBinaryExpression(node)) {
    const [left, right] = [inner(node.left), inner(node.right)]
    return node.operatorToken.kind === ts.SyntaxKind.PlusToken ? pairs(left, right) : [...left, ...right]
  }
  if (ts.isParenthesizedExpression(node) || ts.isAsExpression(node) || ts.isSatisfiesExpression(node))
    return inner(node.expression)
  if (ts.isObjectLiteralExpression(node))
    return node.properties.flatMap((one) => (ts.isPropertyAssignment(one) ? inner(one.initializer) : []))
  if (ts.isArrayLiteralExpression(node)) return node.elements.flatMap(inner)
  if (ts.isArrowFunction(node) || ts.isFunctionDeclaration(node)) return node.body ? inner(node.body) : []
  if (ts.isBlock(node)) {
    const texts: string[] = []
    const visit = (one: ts.Node): void => {
      if (ts.isReturnStatement(one) && one.expression) texts.push(...inner(one.expression))
      else ts.forEachChild(one, visit)
    }
    visit(node)
    return texts
  }
  if (ts.isIdentifier(node)) return named(node.text)
  if (ts.isElementAccessExpression(node)) return inner(node.expression)
  if (ts.isPropertyAccessExpression(node))
    return SAMPLES[node.name.text] === undefined && ts.isElementAccessExpression(node.expression)
      ? inner(node.expression)
      : [SAMPLES[node.name.text] ?? '16.5']
  if (ts.isCallExpression(node)) {
    const { expression } = node
    if (ts.isPropertyAccessExpression(expression) && expression.name.text === 'join') return ['16.5, 17.5']
    if (ts.isIdentifier(expression) && expression.text === 'capital') return inner(node.arguments[0]!)
    return inner(expression)
  }
  return ['16.5']
}

function pairs(one: readonly string[], other: readonly string[]): string[] {
  return one.flatMap((first) => other.map((second) => first + second))
}

interface Wording {
  readonly name: string
  readonly part: string
  readonly text: string
}

/** Every wording of every sentence of the catalogues, with what it means and what to do. */
function catalogueWordings(): Wording[] {
  const files = readdirSync(SOURCE, { recursive: true, encoding: 'utf8' }).filter((file) =>
    /(^|[\\/])sentences\.ts$/.test(file),
  )
  return files.flatMap((file) => {
    const source = ts.createSourceFile(
      file,
      readFileSync(join(SOURCE, file), 'utf8'),
      ts.ScriptTarget.Latest,
      true,
    )
    const known = new Map<string, ts.Node>()
    const said: Wording[] = []
    const visit = (node: ts.Node): void => {
      if (ts.isVariableDeclaration(node) && ts.isIdentifier(node.name) && node.initializer)
        known.set(node.name.text, node.initializer)
      if (ts.isFunctionDeclaration(node) && node.name) known.set(node.name.text, node)
      ts.forEachChild(node, visit)
    }
    visit(source)
    const gather = (node: ts.Node): void => {
      if (ts.isPropertyAssignment(node) && ['say', 'mend', 'means'].includes(node.name.getText(source)))
        for (const text of wordings(node.initializer, known))
          said.push({ name: `${file}: ${nameOf(node, source)}`, part: node.name.getText(source), text })
      else ts.forEachChild(node, gather)
    }
    ts.forEachChild(source, gather)
    return said
  })
}

function nameOf(node: ts.Node, source: ts.SourceFile): string {
  const entry = node.parent?.parent
  return entry !== undefined && ts.isPropertyAssignment(entry) ? entry.name.getText(source) : ''
}

/** A text as its sentences: full stops, semicolons, colons and question marks end one. */
export function sentencesOf(text: string): string[] {
  return text.split(/[.;:?!](?=\s|$)/)
}

/** Words of a sentence: what blanks part, marks of their own aside. */
export function countWords(sentence: string): number {
  return sentence.split(/\s+/).filter((word) => /[\p{L}\p{N}]/u.test(word)).length
}

describe('the catalogue', () => {
  const said = catalogueWordings()
  const distinct = [...new Map(said.map((one) => [`${one.name} ${one.part} ${one.text}`, one])).values()]

  it('is read whole', () => {
    expect(distinct.length).toBeGreaterThan(900)
    expect(distinct.some(({ text }) => text.includes('walk more marks, near and far'))).toBe(true)
  })

  test(`has no sentence of more than ${MOST_WORDS} words`, () => {
    const long = distinct.flatMap(({ name, text }) =>
      sentencesOf(text)
        .filter((one) => countWords(one) > MOST_WORDS)
        .map((one) => `${name}: ${countWords(one)}: ${one.trim()}`),
    )
    expect(long).toEqual([])
  })

  test('chains no clauses by semicolons: one at most, before what to do', () => {
    const mended = new Set(distinct.flatMap(({ name, part }) => (part === 'mend' ? [name] : [])))
    const chained = distinct.filter(({ name, part, text }) => {
      const most = part === 'mend' || (part === 'say' && mended.has(name)) ? 0 : 1
      return text.split(/;(?=\s)/).length - 1 > most
    })
    expect(chained).toEqual([])
  })

  test.each(BANNED)('says nothing like %s (%s)', (banned) => {
    expect(distinct.filter(({ text }) => banned.test(text))).toEqual([])
  })
})
