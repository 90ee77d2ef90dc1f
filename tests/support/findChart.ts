import type { Outcome } from '../../src/math/outcome.js'
import type { FoundChart } from '../../src/chart/find/foundChart.js'
import type { GreyImage } from '../../src/chart/match/greyImage.js'
import { searchChart, type NoChart } from '../../src/chart/find/searchChart.js'
import { searchPicture } from '../../src/chart/find/searchPicture.js'

/** Finds the printed chart in a grey picture at hand; see `searchChart`. Image coordinates: (0,0) is the outer corner of the top-left pixel. */
export function findChart(image: GreyImage): Outcome<FoundChart, NoChart> {
  return searchChart(searchPicture(image))
}
