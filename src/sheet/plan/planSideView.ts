import { type Figures, trimmed } from '../../units/figures.js'
import type { WalkPlan } from '../../walk/plan/planWalk.js'
import { groundWords } from '../../walk/plan/planWords.js'
import type { Walk } from '../../walk/read/walk.js'
import { drawParagraph } from '../document/prose.js'
import { asSentence } from '../../sentences.js'
import { ensureRoom, type Pen } from '../document/pen.js'
import { OUTSIDE_NOTE } from './planHead.js'
import { tagged } from '../document/tagged.js'
import { drawLine } from '../document/text.js'
import { INK, LINE_PT } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

const TALLEST_PT = 130
const WORDS_PT = 14

/**
 * The mount from the side, to scale: two hairlines, one as high as the camera stands, one the way it looks, over the ground. Where walk.yaml does
 * not tell both, room to write them down.
 */
export function drawPlanSideView(pen: Pen, walk: Walk, plan: WalkPlan, figures: Figures): void {
  const { mountHeightM, tiltDeg } = walk.camera
  if (mountHeightM === null || tiltDeg === null) {
    const height = mountHeightM === null ? '____________' : figures.distance(mountHeightM)
    const tilt = tiltDeg === null ? '____________' : `${trimmed(tiltDeg, 1)} degrees`
    pen.y += 6
    drawParagraph(
      pen,
      `Camera over the ground: ${height}\u00a0\u00a0\u00a0 Tilt, degrees down: ${tilt}`,
      OUTSIDE_NOTE,
    )
    return
  }
  const { doc, frame } = pen
  const farthestM = plan.marks.at(-1)!.distanceM * 1.04
  const ptPerM = Math.min((frame.right - frame.left) / farthestM, TALLEST_PT / mountHeightM)
  const mastPt = mountHeightM * ptPerM
  const heightPt = mastPt + WORDS_PT + 16
  ensureRoom(pen, heightPt + 40)
  const top = pen.y
  const ground = top + WORDS_PT + mastPt
  const mast = frame.left
  const right = Math.min(frame.right, frame.left + farthestM * ptPerM)
  tagged(
    pen,
    'Figure',
    () => {
      strokePath(doc, LINE_PT.rule, INK, [mast, ground], [right, ground])
      strokePath(doc, LINE_PT.hair, INK, [mast, ground], [mast, ground - mastPt])
      const [endX, endY] = axisEnd(mast, ground, mastPt, tiltDeg, right)
      strokePath(doc, LINE_PT.hair, INK, [mast, ground - mastPt], [endX, endY])
      const words = `${figures.distance(mountHeightM)} up, ${trimmed(tiltDeg, 1)} degrees down`
      drawLine(doc, words, mast + 4, ground - mastPt - 4, OUTSIDE_NOTE)
      for (const { distanceM, alongGroundM } of plan.marks) {
        const x = mast + (alongGroundM ?? distanceM) * ptPerM
        if (x > right + 0.01) continue
        strokePath(doc, LINE_PT.rule, INK, [x, ground], [x, ground + 4])
      }
    },
    {
      alt: `The camera from the side: ${figures.distance(mountHeightM)} over the ground, looking ${trimmed(tiltDeg, 1)} degrees down.`,
      bbox: [frame.left, top, frame.right, top + heightPt],
    },
  )
  pen.y = top + heightPt
  for (const sentence of groundWords(plan, walk)) drawParagraph(pen, asSentence(sentence), OUTSIDE_NOTE)
}

/** Where the line the camera looks along meets the ground, else the figure's end or its top. */
function axisEnd(
  mast: number,
  ground: number,
  mastPt: number,
  tiltDeg: number,
  right: number,
): [number, number] {
  const tiltRad = (tiltDeg * Math.PI) / 180
  const reach = tiltRad > 0 ? mastPt / Math.tan(tiltRad) : Infinity
  if (mast + reach <= right) return [mast + reach, ground]
  const y = ground - mastPt + (right - mast) * Math.tan(tiltRad)
  const ceiling = ground - mastPt - WORDS_PT
  if (y >= ceiling) return [right, y]
  return [mast + WORDS_PT / Math.tan(-tiltRad), ceiling]
}
