import { isChart } from '../../measure/reference/reference.js'
import { figuresFor } from '../../units/figures.js'
import { measuredWalk } from '../../walk/measure/measuredWalk.js'
import type { WalkPlan } from '../../walk/plan/planWalk.js'
import { paperWords } from '../../walk/plan/planWords.js'
import type { Walk } from '../../walk/read/walk.js'
import { asSentence } from '../../sentences.js'
import { referenceText } from '../input/walkFacts.js'

/** What to take along on this walk. */
export function whatToBring(walk: Walk, plan: WalkPlan): string[] {
  const carried = Object.entries(measuredWalk(walk).references).map(([name, one]) =>
    referenceText(name, one, figuresFor(walk.units)),
  )
  const paper = paperWords(plan, walk.units)
  const hasChart = walk.references.some(({ reference }) => isChart(reference))
  return [
    `To carry: ${carried.join('; ')}.`,
    ...(paper === null || !(hasChart || plan.paper!.paper !== null)
      ? []
      : [hasChart ? `${paper}.` : `Better still, ${paper}.`]),
    'A tape measure or a laser, something to mark the ground with, and a slate to hold up each distance.',
    'Someone at the recorder who exports the stills, full size and from the main stream, and a way to speak to them.',
    'This page and a pencil, which writes in the rain.',
  ].map(asSentence)
}

/** What to do in every light. */
export const IN_EACH_LIGHT: readonly string[] = [
  'Set the camera as it will be used. When the light has changed, let exposure settle: a minute, with nobody in view.',
  'At each mark hold the reference upright and square to the camera, clear of your clothes; hold up the distance on the slate first.',
  'Stand still for three seconds. Then call for the still, tick its box, and write down what the recorder’s clock says.',
  'Measure every mark from the same point. Where one had to move, write down where it really was.',
  'At the end take one still while walking at your usual pace, towards the camera, near the farthest mark that counts; it goes into a folder of its own, such as day-walking.',
]

/** Cautions for those who walk. */
export const WALK_CAUTIONS: readonly string[] = [
  'Someone holds the ladder. Work on mains wiring is for licensed people.',
  'Do not walk where vehicles move, nor alone in the dark.',
  'Do not look into infrared lamps or spotlights close up.',
  'Film only where you may and tell people: local law decides. Use your own plate or an invented one.',
  'A carried board catches wind. Letter cards are not number plates: never fit one to a vehicle.',
  'Many inks vanish under infrared: print the chart with toner or pigment black, and check it at 2 m (6 ft).',
]
