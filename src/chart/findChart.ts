import type { Outcome } from '../math/outcome.js'
import type { FoundChart } from './foundChart.js'
import type { GreyImage } from './greyImage.js'
import { searchChart, type NoChart } from './searchChart.js'
import { searchPicture } from './searchPicture.js'

export type { FoundChart } from './foundChart.js'
export type { NoChart } from './searchChart.js'

/** Finds the printed chart in a grey picture at hand; see `searchChart`. Image coordinates: (0,0) is the outer corner of the top-left pixel. */
export function findChart(image: GreyImage): Outcome<FoundChart, NoChart> {
  return searchChart(searchPicture(image))
}
