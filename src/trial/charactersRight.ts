import { distance } from 'fastest-levenshtein'

/** Characters that are taken for one another on plates, whose own faces are alike, are one: SI 2001/561 draws I as 1 and O as 0. */
const ALIKE: Readonly<Record<string, string>> = { O: '0', I: '1' }

/**
 * How many characters of what was shown were read: each at its place; where an answer has more or fewer, as many as are left by the edits between the two. Null: none.
 */
export function charactersRight(shown: string, answered: string | null): number {
  if (answered === null) return 0
  const [a, b] = [folded(shown), folded(answered)]
  if (a.length !== b.length) return Math.max(0, a.length - distance(a, b))
  let right = 0
  for (let at = 0; at < a.length; at += 1) if (a[at] === b[at]) right += 1
  return right
}

function folded(text: string): string {
  return [...text.toUpperCase()].map((one) => ALIKE[one] ?? one).join('')
}
