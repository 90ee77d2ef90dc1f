import { chartTemplates } from './chartTemplate.js'
import type { ChartTemplate, TemplateSet } from './template.js'

/** What every search matches against. */
export interface SearchTemplates {
  /** By blur, that of the first approach first. */
  readonly sets: readonly TemplateSet[]
  /** Of few samples, for the first look at an outline, which most do not survive. */
  readonly glance: ChartTemplate
}

/** Template blurs, modules: for the first approach, for middling and near charts, and for soft and turned ones. */
const BLURS_MODULES = [0.7, 0.45, 0.25, 1]
export const SAMPLE_STEP_MODULES = 0.5
const GLANCE_STEP_MODULES = 1

/** The templates of every search: constants, drawn when the first still asks for them, as few commands look for charts. */
export const searchTemplates = ((): (() => SearchTemplates) => {
  let drawn: SearchTemplates | undefined
  return () =>
    (drawn ??= {
      sets: BLURS_MODULES.map((blur) => chartTemplates(blur, SAMPLE_STEP_MODULES)),
      glance: chartTemplates(BLURS_MODULES[0]!, GLANCE_STEP_MODULES).common,
    })
})()
