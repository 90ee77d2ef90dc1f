/** A relative change in words: "+5.2 %", "-15 %"; a whole number from ten on. */
export function signedPercent(change: number): string {
  const percent = 100 * change
  const text = Math.abs(percent) >= 9.95 ? percent.toFixed(0) : percent.toFixed(1)
  const unsigned = Number(text) === 0 ? text.replace('-', '') : text
  return `${Number(text) > 0 ? '+' : ''}${unsigned} %`
}

/** Lights as a sentence has them; the reader's own word stands as it is. */
export function underLights(lights: readonly string[]): string {
  const words = lights.map((light) =>
    light === 'day' ? 'by day' : light === 'infrared' ? 'under infrared' : `in ${light}`,
  )
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)!}`
}
