import type { Reference } from '../../../measure/reference/reference.js'
import { isChart } from '../../../measure/reference/reference.js'
import { formatLength } from '../../../units/formatLength.js'
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
      size: sizeWords(reference),
    })),
    marks: [...new Set(distances)].sort((a, b) => a - b).map((distanceM) => markView(distanceM, walk)),
    lights: walk.lights,
    promises: walk.promises,
    stills,
    dropped,
    faults,
  }
}

function sizeWords(reference: Reference): string {
  if (reference.kind === 'length') return formatLength(reference.lengthM)
  const size = `${formatLength(reference.widthM)} x ${formatLength(reference.heightM)}`
  return isChart(reference) ? `chart on ${reference.chart.paper}, ${size}` : size
}
