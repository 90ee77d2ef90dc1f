import type { Reference } from '../../../measure/reference/reference.js'
import { isChart } from '../../../measure/reference/reference.js'
import { type Figures, figuresFor } from '../../../units/figures.js'
import type { Walk } from '../../../walk/read/walk.js'
import type { StillView, WalkView } from '../../api.js'
import { markView } from './stillViews.js'

/** The walk as the page shows it. */
export function walkView(
  folder: string,
  revision: number,
  walk: Walk,
  stills: readonly StillView[],
  dropped: readonly string[],
  faults: readonly string[],
): WalkView {
  const distances = [...walk.marksM, ...stills.flatMap(({ mark }) => mark?.distanceM ?? [])]
  return {
    revision,
    folder,
    site: walk.site,
    date: walk.date,
    cameraName: walk.camera.name,
    simulated: walk.simulated,
    units: walk.units,
    sheet: walk.sheet,
    judge: walk.judge,
    grading: walk.grading,
    references: walk.references.map(({ name, reference, preset }) => ({
      name,
      reference,
      preset,
      size: sizeWords(reference, figuresFor(walk.units)),
    })),
    marks: [...new Set(distances)].sort((a, b) => a - b).map((distanceM) => markView(distanceM, walk)),
    lights: walk.lights,
    promises: walk.promises,
    stills,
    dropped,
    faults,
  }
}

function sizeWords(reference: Reference, { size: words }: Figures): string {
  if (reference.kind === 'length') return words(reference.lengthM)
  const size = `${words(reference.widthM)} x ${words(reference.heightM)}`
  return isChart(reference) ? `chart on ${reference.chart.paper}, ${size}` : size
}
