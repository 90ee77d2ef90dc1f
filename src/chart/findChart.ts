import type { Outcome } from '../math/outcome.js'
import type { FoundChart } from './find/foundChart.js'
import type { GreyImage } from './match/greyImage.js'
import { searchChart, type FindOptions, type NoChart } from './find/searchChart.js'
import { searchPicture } from './find/searchPicture.js'

export type { FoundChart } from './find/foundChart.js'
export type { FindOptions, NoChart } from './find/searchChart.js'

/** Finds the printed chart in a grey picture at hand; see `searchChart`. Image coordinates: (0,0) is the outer corner of the top-left pixel. */
export function findChart(image: GreyImage, options: FindOptions = {}): Outcome<FoundChart, NoChart> {
  return searchChart(searchPicture(image), options)
}
