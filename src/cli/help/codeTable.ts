import { Help } from 'commander'
import { SENTENCE_TOPICS, type SentenceTopic } from '../../sentences.js'
import { CATALOGUES, type TellSentence } from './catalogues.js'

/** A code with what it means and what to do about it, as `proofwalk help` prints it; null where that can only be said of a case. */
export interface ExplainedCode {
  readonly code: string
  readonly topic: SentenceTopic
  readonly means: string | null
  readonly mend: string | null
}

/** Every code of all rooms; one that is told for several reasons stands there once for each. */
export function explainedCodes(): readonly ExplainedCode[] {
  const sentences = Object.values(CATALOGUES).flatMap((says) => Object.values(says))
  const rows = sentences.map((tell) => {
    const { toldAs: code, topic, means, mend } = tell.about
    const said = means === null || mend === null ? openSentence(tell) : null
    return { code, topic, means: means ?? said?.message ?? null, mend: mend ?? said?.mend ?? null }
  })
  return [...new Map(rows.map((row) => [JSON.stringify(row), row])).values()]
}

/** A fact left open: it prints as "...", whatever a sentence asks of it. */
const OPEN_FACT: unknown = new Proxy(() => OPEN_FACT, {
  get: (_target, key) => (key === Symbol.toPrimitive ? () => '...' : OPEN_FACT),
})

/** The sentence with its facts left open, or null where it needs them to be said at all. */
function openSentence(tell: TellSentence): { readonly message: string; readonly mend: string | null } | null {
  try {
    const { message, mend } = tell(...Array<never>(8).fill(OPEN_FACT as never))
    const said = { message: `${message}`, mend: mend === undefined ? null : `${mend}` }
    return /NaN|undefined/.test(`${said.message}${said.mend}`) || !/[a-z]{3}/.test(said.message) ? null : said
  } catch {
    return null
  }
}

/** The codes as lines of text, topic by topic; those of which nothing can be said beforehand are named beneath. */
export function codeText(codes: readonly ExplainedCode[], columns: number): string {
  const topics = Object.entries(SENTENCE_TOPICS).filter(([topic]) =>
    codes.some((code) => code.topic === topic),
  )
  return topics
    .map(([topic, title]) => {
      const table = tableOf(
        codes.filter((code) => code.topic === topic),
        columns,
      )
      return `Codes: ${title}\n\n${table}`
    })
    .join('\n')
}

function tableOf(codes: readonly ExplainedCode[], columns: number): string {
  const helper = Object.assign(new Help(), { helpWidth: columns })
  const reasons = new Map<string, string[]>()
  for (const { code, means, mend } of codes) {
    const told = [means, mend].filter((part) => part !== null)
    reasons.set(code, [...(reasons.get(code) ?? []), ...(told.length === 0 ? [] : [told.join('; ')])])
  }
  const explained = [...reasons].filter(([, told]) => told.length > 0)
  const width = Math.max(0, ...explained.map(([code]) => code.length))
  const rows = explained.flatMap(([code, told]) =>
    told.map((one, index) => `${helper.formatItem(index === 0 ? code : '', width, one, helper)}\n`),
  )
  const bare = [...reasons].filter(([, told]) => told.length === 0).map(([code]) => code)
  const spoken = `Said only of a case: ${bare.join(', ')}.`
  const rest = bare.length === 0 ? '' : `  ${helper.boxWrap(spoken, columns - 2).replaceAll('\n', '\n  ')}\n`
  return `${rows.join('')}${rows.length > 0 && rest !== '' ? '\n' : ''}${rest}`
}
