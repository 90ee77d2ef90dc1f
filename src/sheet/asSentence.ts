/** A phrase of the results as a sentence of its own: a capital first, a full stop last. */
export function asSentence(text: string): string {
  const trimmed = text.trim()
  if (trimmed === '') return ''
  const sentence = trimmed.charAt(0).toUpperCase() + trimmed.slice(1)
  return /[.!?…]$/.test(sentence) ? sentence : `${sentence}.`
}
