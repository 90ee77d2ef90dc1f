import type { Outcome } from '../../src/math/outcome.js'
import type { FoundChart } from '../../src/chart/foundChart.js'
import type { GreyImage } from '../../src/chart/greyImage.js'
import { searchChart, type FindOptions, type NoChart } from '../../src/chart/searchChart.js'
import { searchPicture } from '../../src/chart/searchPicture.js'

/** Finds the printed chart in a grey picture at hand; see `searchChart`. Image coordinates: (0,0) is the outer corner of the top-left pixel. */
export function findChart(image: GreyImage, options: FindOptions = {}): Outcome<FoundChart, NoChart> {
  return searchChart(searchPicture(image), options)
}
