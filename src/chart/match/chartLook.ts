import type { ByteImage } from '../../still/searchBytes.js'
import { chartStructure } from './chartStructure.js'
import type { ChartTemplate } from './template.js'
import { agreement, sampleThrough, type Agreement } from './matchChart.js'
import type { Homography } from '../../math/homography.js'
import { searchTemplates } from './searchTemplates.js'

/** A match at or over this correlation is a chart: impostors reach less, charts at the limits of finding more (measured). */
export const LEAST_CORRELATION = 0.82
// At the finest scale looked at, the whole must agree well, or every single part must, as where a shadow falls across. True charts in simulated
// stills reach 0.92 in whole, drawn markers 0.89, with a part at 0.76 or less.
const LEAST_WHOLE = 0.9
const LEAST_PARTS = 0.82

/** How a map's chart agrees with the template of its face whose blur fits best. */
export interface ChartLook {
  readonly correlation: number
  readonly kept: number
  readonly sigmaModules: number
  readonly worstWindow: number
  /** From ink to paper, code values. */
  readonly contrastDn: number
}

/** Whether one pair of levels holds for the whole chart, which telling its face needs: where a shadow falls across, the parts agree and the whole does not. */
export function isEvenlyLit(look: ChartLook): boolean {
  return look.correlation >= LEAST_WHOLE
}

/** Whether a look at the finest scale leaves no doubt that it is the chart. */
export function isBeyondDoubt(look: ChartLook): boolean {
  return isEvenlyLit(look) || look.worstWindow >= LEAST_PARTS
}

/** Looks at a chart through a map (modules to pixels); `mask`: samples that count; `fitted`: the face's template with the blur that was fitted. Null where it agrees too little, or a part of it is not there. */
export function lookAt(
  image: ByteImage,
  map: Homography,
  face: number,
  mask: Uint8Array,
  noiseVariance: number,
  fitted?: ChartTemplate,
): ChartLook | null {
  const samples = new Float64Array(mask.length)
  sampleThrough(image, map, searchTemplates().sets[0]!.common, samples)
  let best: (Agreement & { template: ChartTemplate; sigma: number }) | null = null
  const templates = searchTemplates().sets.map((set) => set.face(face))
  for (const template of fitted === undefined ? templates : [fitted, ...templates]) {
    const fits = agreement(samples, template, mask, noiseVariance)
    if (best === null || fits.correlation > best.correlation)
      best = { template, sigma: Math.sqrt(template.blurAcross * template.blurDown), ...fits }
  }
  if (best!.correlation < LEAST_CORRELATION) return null
  const structure = chartStructure(samples, best!.template, mask, noiseVariance)
  if (!structure.holds) return null
  const { correlation, kept, sigma, gain } = best!
  return { correlation, kept, sigmaModules: sigma, worstWindow: structure.worst, contrastDn: gain }
}
