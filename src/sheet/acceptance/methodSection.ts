import { LEAST_STRIP_K } from '../../measure/strip/stripK.js'
import { countStills } from '../../walk/schemas/resultsSchema.js'
import { columnsWithDetail } from '../input/detailColumns.js'
import { QUIET_CAMERA } from './filesTable.js'
import { DEFAULT_FULL_DETAIL_AT, DEFAULT_LEAST_ROSE_K } from '../../grade/gradings/grading.js'
import { ONE_MARK_M } from '../../grade/marks/markMeasurement.js'
import { START_PRIOR_M } from '../../grade/range/fitConstant.js'
import { asSentence } from '../../sentences.js'
import { trimmed } from '../../units/figures.js'
import type { Pen } from '../document/pen.js'
import { drawList, drawParagraph, drawSectionHead, drawSubhead } from '../document/prose.js'
import type { SheetContext } from '../input/sheetContext.js'
import { referenceText } from '../input/walkFacts.js'
import { SMALL } from '../document/typography.js'

/** How it was measured: each step, each convention and its source. */
export function drawMethodSection(pen: Pen, context: SheetContext): void {
  drawSectionHead(pen, 'How this was measured', 80)
  drawParagraph(pen, opening(context), SMALL)
  drawSubhead(pen, 'Steps and their sources', 30)
  drawList(pen, steps(context), SMALL)
  drawSubhead(pen, 'Conventions of this project', 30)
  drawList(pen, conventions(context), SMALL)
}

function opening({ results, facts, figures }: SheetContext): string {
  const references = Object.entries(results.walk.references)
    .map(([name, reference]) => referenceText(name, reference, figures))
    .join('; ')
  const judged =
    facts.judge === 'detail'
      ? 'Grades are judged by pixels that carry detail and by contrast, a rule of this project that is stricter than the standard’s pixel count; the grade by pixel count alone stands beside it.'
      : 'Grades are judged by pixel count, as the table of the grading does; none is given where contrast is shown not to survive, a rule of this project.'
  const left = results.failed.length + results.unassigned.length
  const notes = facts.notes === null ? '' : ` Notes: ${asSentence(facts.notes)}`
  return `${countStills(results.stills)} stills were measured, ${left} not.${notes} A reference of known size was carried from mark to mark and measured on each exported still: ${references}. ${judged} Method version ${results.method}; ${facts.date === null ? 'the date of the walk is not stated' : `walk of ${facts.date}`}.`
}

function steps({ results, figures }: SheetContext): string[] {
  const limits = results.grading.grades.map((grade) => `${grade.name} ${figures.bareLimit(grade.limit)}`)
  return [
    `Grades and their least density in px/m: ${limits.join(', ')}. Source: ${results.grading.source || results.grading.name}.`,
    'Density: from four corners, the homography from the plane of the reference to the still (normalised direct linear transformation; Hartley and Zisserman, Multiple View Geometry, 2004); its derivative at the reference’s centre gives px per metre along both of its axes, of which the smaller counts.',
    ...lensStep(results),
    ...chartStep(results),
    'Uncertainty: JCGM 100:2008 (GUM), first order; intervals are 95 %. In it: where the corners were taken, the reference’s size, the bend of the lens, a common bias of clicks.',
    'Verdict: guard band after JCGM 106:2012. Met where the whole interval reaches the limit, not met where none of it does, otherwise not shown.',
    ...severalStep(results),
    'Detail: the frequency at which contrast first falls to 10 %, after ISO 12233 (edge-based spatial frequency response) on slanted edges, or by fitting a model edge where they are too short. The 10 % crossing is common practice, not the standard’s word for limiting resolution.',
    'Tone: code values made linear after IEC 61966-2-1 (sRGB), whose exponent is taken to be right to 15 %, unless a chart shows otherwise.',
    'Promise and range: 1/density grows evenly with distance; one constant F is fitted per light and reference to all its marks by generalised least squares, with the uncertainty of distances, their start, size, bend and clicks in common, and every mark is tested against the others. A promise at D asks for F/D, held square, at a mark and between marks alike; a range is where F/D falls to the limit. A mark’s own row states the density as held there.',
  ]
}

/** How promises are held against several references, where there are. */
function severalStep({ walk }: SheetContext['results']): string[] {
  if (Object.keys(walk.references).length < 2) return []
  return [
    'Several references in a light: a promise that names none is held against each, and any one may show it not met. So the upper end of each one’s promises and ranges is that of 1 - 0.05/n, n being their number (Bonferroni): it holds for all together.',
  ]
}

/** How corners went through the lens, where it was known. */
function lensStep({ projection }: SheetContext['results']): string[] {
  if (projection === null) return []
  return [
    'The lens: one family of projections, r/F = tan(p t)/p above p = 0, t at 0, sin(-p t)/(-p) below, fitted to all corners at once by least squares, where each reference stood and how it was turned being free; corners then go through it as rays. A data sheet’s lens is used only where the walk’s own px per radian and stills agree with it.',
  ]
}

/** How a chart was measured, where the walk has one. */
function chartStep({ walk }: SheetContext['results']): string[] {
  if (!Object.values(walk.references).some((reference) => 'chart' in reference)) return []
  return [
    'The printed chart: found in the still without a click; its frame’s corners and their covariance from the least-squares fit of the whole modelled chart (homography, blur, levels); levels and noise on its paper and its ink.',
  ]
}

function conventions({ results, figures }: SheetContext): string[] {
  const { begins } = results.walk.distance
  const detailAt = results.grading.fullDetailAt ?? DEFAULT_FULL_DETAIL_AT
  const leastK = results.grading.leastRoseK ?? DEFAULT_LEAST_ROSE_K
  return [
    ...(columnsWithDetail(results)
      ? [
          `Pixels with detail: a still that shows 10 % contrast at ${trimmed(detailAt, 3)} cycles per pixel or finer counts every pixel; below that, pixels are discounted in proportion.`,
        ]
      : []),
    ...(results.marks.some(({ detailFrom }) => detailFrom !== null)
      ? [
          'Detail of a mark that shows none of its own: the mean over the marks of another reference in the same light, where they stand on both sides of it, with their scatter, 1 % that its stills share, and what is open in the tone curve; of several references the one known best. Contrast is never taken from another.',
        ]
      : []),
    `Contrast: an element two pixels wide at the grade’s limit must stand out ${trimmed(leastK, 2)} times from the noise. That 5 is enough is A. Rose’s (Journal of the Optical Society of America 38, 1948); taking it per grade is ours.`,
    ...stripsConvention(results),
    ...quietStills(results),
    'Clicks: 0.5 px standard deviation by hand, and 0.2 px outward per end in common.',
    `Distances: measured ${tapedFrom(results)}${begins === 0 ? '' : `, ${figures.distance(begins)} added to each distance`}, within ${trimmed(figures.inLengthUnit(results.walk.distance.tolerance), 3)} ${figures.lengthUnit}; its start within ${trimmed(figures.inLengthUnit(START_PRIOR_M), 2)} ${figures.lengthUnit} of the lens’s entrance pupil (one standard deviation). Two distances within ${figures.distance(ONE_MARK_M)} are one mark.`,
    'Width of view: the still’s width over the density at that mark; only an estimate at the edges of a wide lens.',
    'Pictures: cut so that all of a table span the same metres; small ones are enlarged by repeating pixels, so every square is one pixel of the still; large ones are reduced.',
  ]
}

function tapedFrom({ walk }: SheetContext['results']): string {
  return walk.distance.from === 'camera'
    ? 'from the camera'
    : 'along the ground from below the camera, made lines of sight by the heights of camera and reference, and ranges given along the ground'
}

/** What the two strips decide, where some were read. */
function stripsConvention({ stills }: SheetContext['results']): string[] {
  if (!stills.some(({ strip }) => strip !== null && strip !== undefined)) return []
  return [
    `Detail at low contrast: where the two strips of bars were read, they decide, not strong edges, which noise reduction and codecs leave crisp. A stroke two pixels wide at the grade’s limit is shown where A (density times the area under the response to bars of 24 % contrast) times the stroke is 0.2, and where it stands out ${LEAST_STRIP_K} times from what the black bars leave as noise; both are ours, fitted on simulated stills. Without strips, detail after noise reduction is at best an upper bound.`,
  ]
}

function quietStills(results: SheetContext['results']): string[] {
  const quiet = results.stills.filter(({ problems }) => problems.some(({ code }) => code === QUIET_CAMERA))
  if (quiet.length === 0) return []
  const count =
    quiet.length === results.stills.length
      ? 'every still'
      : `${countStills(quiet)} of ${countStills(results.stills)} stills`
  return [
    `Noise is under one code value in ${count}: what the camera smoothed away does not count, so contrast against noise is an upper bound there.`,
  ]
}
