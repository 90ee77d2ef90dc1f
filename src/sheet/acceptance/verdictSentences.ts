import type { Basis } from '../../grade/judgement.js'
import type { MaybeBound } from '../../math/interval.js'
import { isSameMark } from '../../walk/read/sameMark.js'
import { countStills, type WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { Said } from '../../sentences.js'
import { sheetSays } from '../sentences.js'

type Promised = WalkResults['promises'][number]

/** What a buyer reads first: how many promises are met by the rule they are judged by, and then by the other, each under its own name. */
export function verdictSentences(results: WalkResults): string[] {
  const { promises, stills, marks, grading, walk } = results
  if (promises.length === 0) {
    const said =
      stills.length === 0
        ? sheetSays['nothing-measured-or-promised']()
        : sheetSays['nothing-promised'](marks.length, countStills(stills))
    return [`${said.message}.`]
  }
  const [read, most, least] = (['read', 'most', 'least'] as const).map((asked) =>
    promises.filter(({ kind }) => kind === asked),
  )
  const rules: readonly Basis[] = walk.judge === 'detail' ? ['detail', 'pixels'] : ['pixels']
  const judged = least!.map((promise) => ({ promise, results }))
  const sentences = rules.map((rule) => ruleSentence(rule, grading.name, judged))
  return [
    ...(read!.length === 0 ? [] : [sheetSays['must-be-read'](...metAndOpen(read!))]),
    ...(least!.length === 0 ? [] : sentences),
    ...(most!.length === 0 ? [] : [sheetSays['must-not-see'](...metAndOpen(most!))]),
    ...(stills.length === 0 ? [sheetSays['nothing-measured']()] : []),
  ].map(({ message }) => `${message}.`)
}

/** How many promises there are, how many of them are met, and how many are not shown. */
export function metAndOpen(
  promises: readonly Pick<Promised, 'verdict'>[],
): [promised: number, met: number, open: number] {
  const count = (asked: Promised['verdict']): number =>
    promises.filter(({ verdict }) => verdict === asked).length
  return [promises.length, count('met'), count('not shown')]
}

/** How many promises, of one walk or of several of one grading, are met by a rule, in one sentence. */
export function ruleSentence(
  rule: Basis,
  grading: string,
  judged: readonly { readonly promise: Promised; readonly results: WalkResults }[],
): Said {
  const count = (standing: Standing): number =>
    judged.filter(({ promise, results }) => standingOf(promise, rule, results) === standing).length
  return sheetSays.verdicts({
    rule,
    grading,
    promised: judged.length,
    met: count('met'),
    notMet: count('not met'),
    notShown: count('not shown'),
    unusable: count('unusable'),
  })
}

export type Standing = Promised['verdict'] | 'unusable'

/**
 * How a promise stands by a rule. Where the pixels suffice and the marks there are shown unusable (washed out, lost in noise), it is met by neither rule: by pixels
 * it is `unusable`.
 */
export function standingOf(promise: Promised, rule: Basis, results: WalkResults): Standing {
  if (rule === 'detail') return promise.verdict
  return promise.byPixels === 'met' && showsNothing(promise, results)
    ? 'unusable'
    : // Where pixels are what it is judged by, the frame beside it says the verdict, which what stands out and the stills there have a part in.
      promise.basis === 'pixels'
      ? promise.verdict
      : promise.byPixels
}

/** Whether a promise is not met because nothing can be made out there: then a density with detail is not a figure of its reference. */
export function showsNothing(promise: Promised, results: WalkResults): boolean {
  return promise.verdict === 'not met' && isUnusable(promise, results)
}

/** A promise's density on the basis it is judged by; null where there is none, and with detail where nothing can be made out, whatever another reference lends. */
export function judgedDensity(promise: Promised, results: WalkResults): MaybeBound | null {
  const { value, low, high, basis } = promise
  if (value === null || high === null || (basis === 'detail' && showsNothing(promise, results))) return null
  return { value, low, high }
}

/** Whether all marks at a promise's distance, else the nearest on either side of it, are shown unusable. */
function isUnusable({ light, decidedBy, distance }: Promised, { marks }: WalkResults): boolean {
  const series = marks.filter((mark) => mark.light === light && mark.reference === decidedBy && !mark.leftOut)
  const there = series.filter((mark) => isSameMark(mark.distance, distance))
  const around = [
    series.findLast((mark) => mark.distance <= distance),
    series.find((mark) => mark.distance > distance),
  ].filter((mark) => mark !== undefined)
  const asked = there.length > 0 ? there : around
  return asked.length > 0 && asked.every(({ usable }) => usable === false)
}
