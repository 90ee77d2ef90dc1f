import type { UnitSystem } from '../../units/formatLength.js'
import { moduleM } from './chartGeometry.js'
import { CHART_PAPERS, type ChartPaper } from './chartPapers.js'

/** Papers people can have printed, by the units they live with, smallest first. */
const OFFERED: Readonly<Record<UnitSystem, readonly string[]>> = {
  metric: ['A4', 'A3', 'A2', 'A1', 'A0'],
  imperial: ['Letter', 'Tabloid', 'A2', 'A1', 'A0'],
}

/** The line of sight, metres, to which a paper's chart has at least `pxPerModule` before a lens of F px per radian. */
export function chartReachM(paper: ChartPaper, pixelsPerRadian: number, pxPerModule: number): number {
  return (pixelsPerRadian * moduleM(paper)) / pxPerModule
}

/** The smallest paper whose chart is still found at a line of sight, metres; null where none is. */
export function paperForDistance(
  lineOfSightM: number,
  pixelsPerRadian: number,
  pxPerModule: number,
  units: UnitSystem,
): ChartPaper | null {
  const papers = OFFERED[units].flatMap((id) => CHART_PAPERS.filter((paper) => paper.id === id))
  return papers.find((paper) => chartReachM(paper, pixelsPerRadian, pxPerModule) >= lineOfSightM) ?? null
}

/**
 * The fewest px per module at which the finder still finds the chart held within 30 degrees of square: this project's measurement on
 * simulated stills (12 of 12 found, bench/chartTable.ts). `day` is sharp and even, `night` noisy and of low contrast.
 */
export const LEAST_PX_PER_MODULE = { day: 1.5, night: 2.5 } as const

/** Whether a light is as good as day: only `day`, and lights named after it, are taken to be. */
export function isByDay(light: string): boolean {
  return /^day(?![\p{L}\p{N}])/u.test(light)
}

/** What the finder needs in a light. */
export function leastPxPerModule(light: string): number {
  return isByDay(light) ? LEAST_PX_PER_MODULE.day : LEAST_PX_PER_MODULE.night
}
