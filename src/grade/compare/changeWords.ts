import { listed } from '../../units/figures.js'
import { printedEstimate } from '../../units/printedEstimate.js'

/** A relative change in words: "+5.2 %", "-15 %"; a whole number from ten on. */
export function signedPercent(change: number): string {
  const percent = 100 * change
  const text = Math.abs(percent) >= 9.95 ? percent.toFixed(0) : percent.toFixed(1)
  const unsigned = Number(text) === 0 ? text.replace('-', '') : text
  return `${Number(text) > 0 ? '+' : ''}${unsigned} %`
}

/** A relative change with its 95 % interval as both are read: as many digits as the interval allows, and never the other sign. */
export function changeInPrint({ change, low, high }: Readonly<Record<'change' | 'low' | 'high', number>>): {
  readonly change: string
  readonly interval: string
} {
  const printed = printedEstimate({ value: 100 * change, low: 100 * low, high: 100 * high }, [0])
  const signed = (text: string): string =>
    `${Number(text) > 0 ? '+' : ''}${Number(text) === 0 ? text.replace('-', '') : text} %`
  return { change: signed(printed.value), interval: `${signed(printed.low)} to ${signed(printed.high)}` }
}

/** The same in one: "+5.2 % (+4.1 % to +6.4 %)". */
export function changeWithInterval(change: Readonly<Record<'change' | 'low' | 'high', number>>): string {
  const printed = changeInPrint(change)
  return `${printed.change} (${printed.interval})`
}

/** Lights as a sentence has them; the reader's own word stands as it is. */
export function underLights(lights: readonly string[]): string {
  const words = lights.map((light) =>
    light === 'day' ? 'by day' : light === 'infrared' ? 'under infrared' : `in ${light}`,
  )
  return listed(words)
}
