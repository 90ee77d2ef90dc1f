import { catalogue } from '../sentences.js'

const PROGRAM = { topic: 'program' } as const
const NOT_DETERMINED = { ...PROGRAM, code: 'not-determined' } as const

/** A paper as it is ordered; metres. */
interface OrderedPaper {
  readonly name: string
  readonly inches: string
  readonly widthM: number
  readonly heightM: number
}

/** Why the chart's finder or its fit fails, for what measures it: what a person is told stands in the walk's sentences. */
export const chartSays = catalogue({
  'order-print': {
    topic: 'chart',
    say: (file: string, { name, inches, widthM, heightM }: OrderedPaper) => {
      const inMm = [heightM, widthM].map((sideM) => (1000 * sideM).toFixed(0)).join(' x ')
      const paper = /^A\d/.test(name)
        ? `${name} (${inMm} mm) or ${inches}`
        : `${name} (${inches}, ${inMm} mm)`
      return `order one print of ${file} on ${paper} paper: black and white, matte, at 100 %, nothing scaled`
    },
  },
  'no-chart': { ...PROGRAM, say: 'no chart was found in this still' },
  'two-charts': { ...PROGRAM, say: 'two charts are in view, so neither is measured' },
  'mirrored-chart': { ...PROGRAM, say: 'the chart is seen in a mirror, or the still is flipped' },
  'outside-the-still': { ...NOT_DETERMINED, say: 'the chart lies outside the still' },
  'too-faint': { ...NOT_DETERMINED, say: 'the chart is too faint to be fitted' },
  'not-converged': { ...PROGRAM, say: 'the chart could not be fitted' },
  'too-blurred': { ...PROGRAM, say: 'the chart is too blurred for its size to be measured' },
})
