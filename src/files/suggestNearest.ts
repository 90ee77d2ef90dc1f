import { distance } from 'fastest-levenshtein'
import { FIELD_MENDS } from './sentences.js'

/**
 * The known word a typed one most likely stands for, or null where none is near: at most a third of its letters
 * (and always one, two from four letters on) may differ, case aside. The same letters in another order count as
 * one difference; a word that is the beginning of the other (four letters and more: `judgement` for `judge`) is near
 * where nothing is nearer. `most` allows fewer differences than that.
 */
export function suggestNearest(word: string, known: readonly string[], most = Infinity): string | null {
  const typed = word.toLowerCase()
  const allowed = Math.min(most, Math.max(typed.length < 4 ? 1 : 2, Math.floor(typed.length / 3)))
  const apart = known.map((one) => {
    const lowered = one.toLowerCase()
    if (sortedLetters(lowered) === sortedLetters(typed) && lowered !== typed) return 1
    const away = distance(typed, lowered)
    return beginsOther(lowered, typed) ? Math.min(away, allowed) : away
  })
  const least = Math.min(...apart)
  const swapped = known.findIndex(
    (one, index) => apart[index] === least && sortedLetters(one.toLowerCase()) === sortedLetters(typed),
  )
  if (least > allowed) return null
  return known[swapped >= 0 ? swapped : apart.indexOf(least)] ?? null
}

function beginsOther(a: string, b: string): boolean {
  return Math.min(a.length, b.length) >= 4 && (a.startsWith(b) || b.startsWith(a))
}

function sortedLetters(word: string): string {
  return [...word].sort().join('')
}

/** The mend for an unknown word: the nearest known one, else all of them. */
export function mendByNearest(word: string, known: readonly string[]): string {
  const near = suggestNearest(word, known)
  return near === null ? FIELD_MENDS.oneOf(known) : FIELD_MENDS.near(near)
}
