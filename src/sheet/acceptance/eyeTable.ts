import { drawTable } from '../tables/dataTable.js'
import type { Pen } from '../document/pen.js'
import { drawParagraph, drawSubhead } from '../document/prose.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { SheetContext } from '../input/sheetContext.js'
import { SMALL_GREY } from '../document/typography.js'

/** Triggers, and what a person saw at the marks; nothing where nobody noted anything. */
export function drawEyeTable(pen: Pen, context: SheetContext): void {
  const { results, figures } = context
  const { observations } = results.walk
  if (results.triggers.length > 0) {
    drawSubhead(pen, 'Where the camera triggered', 40)
    const figure = (distanceM: number | null): string =>
      distanceM === null ? '–' : figures.bareDistance(distanceM)
    drawTable(
      pen,
      [
        { head: 'Light', share: 120 },
        { head: `Farthest mark that triggered, ${figures.lengthUnit}`, share: 130, align: 'decimal' },
        { head: `Nearest mark that did not, ${figures.lengthUnit}`, share: 130, align: 'decimal' },
        { head: '', share: 110 },
      ],
      results.triggers.map(({ light, farthestTriggered, nearestNotTriggered }) => ({
        cells: [light, figure(farthestTriggered), figure(nearestNotTriggered), ''],
      })),
    )
  }
  if (observations.length === 0) return
  drawSubhead(pen, 'Seen by eye, text known', 60)
  drawParagraph(
    pen,
    'Who looked knew the text and the face beforehand, and so read better than a stranger would. These words are not a measurement.',
    SMALL_GREY,
  )
  drawTable(
    pen,
    [
      { head: `Mark, ${figures.lengthUnit}`, share: 40, align: 'decimal' },
      { head: 'Light', share: 70 },
      { head: 'Triggered', share: 100 },
      { head: 'Plate read', share: 60 },
      { head: 'Face known', share: 60 },
      { head: 'Note', share: 180 },
    ],
    observations.map((seen) => ({
      cells: [
        figures.bareDistance(seen.mark),
        seen.light,
        triggerText(seen),
        seen.plateRead ?? '–',
        seen.faceKnown ?? '–',
        seen.note ?? '',
      ],
    })),
  )
}

function triggerText({ triggered, by }: WalkResults['walk']['observations'][number]): string {
  if (triggered === null) return '–'
  const word = triggered ? 'yes' : 'no'
  return by === null ? word : `${word} (${by})`
}
