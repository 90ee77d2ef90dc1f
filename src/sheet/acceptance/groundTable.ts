import { groundUnderSight, groundView, sightOverGround, halfVerticalRad } from '../../lens/groundView.js'
import { foretelling, sheetReadingOfResults } from '../../walk/lens/sheetReading.js'
import { viewWords } from '../../walk/plan/planWords.js'
import { planSays } from '../../walk/plan/sentences.js'
import { drawParagraph, drawSubhead } from '../document/prose.js'
import { asSentence } from '../../sentences.js'
import { drawTable } from '../tables/dataTable.js'
import type { Pen } from '../document/pen.js'
import type { SheetContext } from '../input/sheetContext.js'
import { SMALL } from '../document/typography.js'

/** Where the view begins and ends on the ground, and each mark's line of sight against its distance along the ground, where the walk tells the heights. */
export function drawGroundTable(pen: Pen, context: SheetContext): void {
  const { results, figures } = context
  const { camera, units, distance: taped, references } = results.walk
  const { mountHeight, tilt } = camera
  if (mountHeight === null) return
  const carried = Object.entries(references).flatMap(([name, { carriedAt }]) =>
    carriedAt === null ? [] : [{ name, dropM: mountHeight - carriedAt }],
  )
  const reading = sheetReadingOfResults(results.walk)
  const inDoubt = reading?.inDoubt === true
  const stated = inDoubt ? null : (camera.fieldOfView?.vertical ?? null)
  const halfRad = camera.fieldOfView === null ? null : halfVerticalRad(foretelling(reading), stated)
  if (carried.length === 0 && (tilt === null || (halfRad === null && !inDoubt))) return
  drawSubhead(pen, 'On the ground', 40)
  if (tilt !== null && inDoubt) drawParagraph(pen, asSentence(planSays['lens-in-doubt']().message), SMALL)
  if (tilt !== null && halfRad !== null) {
    const station = { mountHeightM: mountHeight, tiltRad: (tilt * Math.PI) / 180, halfVerticalRad: halfRad }
    const words = viewWords({ mountHeightM: mountHeight, tiltDeg: tilt, ground: groundView(station) }, units)
    drawParagraph(pen, `${asSentence(words)} The angle is the data sheet’s.`, SMALL)
  }
  const marksM = [...new Set(results.marks.map(({ distance }) => distance))].sort((a, b) => a - b)
  if (carried.length === 0 || marksM.length === 0) return
  const byGround = taped.from === 'ground'
  const other = (markM: number, dropM: number): string => {
    const lengthM = byGround ? sightOverGround(markM, dropM) : groundUnderSight(markM, dropM)
    return lengthM === null ? '–' : figures.bareDistance(lengthM)
  }
  const unit = figures.lengthUnit
  drawTable(
    pen,
    [
      {
        head: byGround
          ? `Mark, measured along the ground, ${unit}`
          : `Mark, measured from the camera, ${unit}`,
        share: 80,
        align: 'decimal',
      },
      ...carried.map(({ name }) => ({
        head: byGround ? `Line of sight to the ${name}, ${unit}` : `Along the ground to the ${name}, ${unit}`,
        share: 80,
        align: 'decimal' as const,
      })),
      { head: '', share: 80 },
    ],
    marksM.map((markM) => ({
      cells: [figures.bareDistance(markM), ...carried.map(({ dropM }) => other(markM, dropM)), ''],
    })),
  )
}
