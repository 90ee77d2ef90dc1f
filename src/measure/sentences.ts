import { catalogue } from '../sentences.js'
import { printedValue } from '../units/printedEstimate.js'

const PROGRAM = { topic: 'program' } as const
const BAD_ARGUMENT = { ...PROGRAM, code: 'bad-argument' } as const
const NOT_CONVERGED = { ...PROGRAM, code: 'not-converged' } as const
const PICKS = { topic: 'picks' } as const
const NOT_OF_REFERENCE = { ...PICKS, code: 'pick-not-of-reference' } as const
const SNAP_BROKEN_EDGE = { ...PICKS, code: 'snap-broken-edge' } as const
const SNAP_NO_FIT = { ...PICKS, code: 'snap-no-fit' } as const
const DETAIL = { topic: 'detail' } as const
const TOO_SMALL = { ...DETAIL, code: 'detail-too-small' } as const
const CONTRAST = { topic: 'contrast' } as const
const STILLS = { topic: 'stills' } as const
const CHART = { topic: 'chart' } as const
const NOT_MONOTONE = { ...PROGRAM, code: 'not-monotone' } as const

const DOUBTS: Readonly<Record<string, string>> = {
  'snap-moved-far': 'a side moved far from its clicks',
  'snap-shape': 'its shape is off',
  'snap-border-unknown': 'nobody said how its border is made',
}
const LEAVE_OR_BOARD = 'leave it as clicked, or carry a board'
const SCALED_UP = 'the pixels of the still are not those of the camera, so its density is no measure of it'

/** All that measuring says of a still: problems with what could be told, and why the rest could not. */
export const measureSays = catalogue({
  'pick-sigma': { ...BAD_ARGUMENT, say: (sigmaPx: number) => `a pick's sigma is ${sigmaPx} px` },
  'pick-covariance': {
    ...BAD_ARGUMENT,
    say: (size: number) => `a pick's covariance is no ${size} x ${size} covariance`,
  },
  'sizes-not-positive': {
    ...BAD_ARGUMENT,
    say: (sizes: readonly number[]) => `sizes and distances are positive, not ${sizes.join(', ')}`,
  },
  'tolerances-too-large': {
    ...BAD_ARGUMENT,
    say: (tolerances: readonly number[]) => `tolerances lie under their sizes, not ${tolerances.join(', ')}`,
  },
  'too-few-stills': {
    topic: 'lens',
    say: (needed: number, there: number) => `a lens needs ${needed} stills, there are ${there}`,
  },
  'not-settled': { topic: 'lens', say: 'no lens of the family draws these stills' },

  'four-corners-needed': {
    ...NOT_OF_REFERENCE,
    say: (reference: string) => `${reference} is a rectangle and needs its four corners, not two ends`,
  },
  'two-ends-needed': {
    ...NOT_OF_REFERENCE,
    say: (reference: string) => `${reference} is a length and needs its two ends, not four corners`,
  },
  'corners-not-finite': { ...PICKS, say: 'a corner is not a pair of numbers' },
  'corners-outside': {
    ...PICKS,
    means: 'the corners belong to another still, or to one of another size: click them again on this one',
    say: (corner: number, x: number, y: number, width: number, height: number) =>
      `corner ${corner} at ${x}, ${y} lies outside the still of ${width} x ${height} px`,
  },
  'corners-coincident': {
    ...PICKS,
    means:
      'two of the four corners lie in one place: click each corner once, clockwise from its own top left',
    say: (one: number, other: number) => `corners ${one} and ${other} are less than a pixel apart`,
  },
  'corners-collinear': {
    ...PICKS,
    means: 'three of the four corners lie in a line, which no rectangle shows: click the four outer corners',
    say: (corner: number) => `corner ${corner} lies in line with its two neighbours`,
  },
  'corners-crossed': { ...PICKS, say: 'the outline crosses itself: click the corners around the reference' },
  'corners-not-convex': {
    ...PICKS,
    means: 'no flat rectangle can look like these four points: click its four outer corners again',
    say: (corner: number) => `corner ${corner} points inwards: no flat rectangle looks like that`,
  },
  'no-rectangle': {
    ...PICKS,
    code: 'corners-not-convex',
    say: 'the four corners are no view of a flat rectangle',
  },
  'corners-begin-elsewhere': {
    ...PICKS,
    say: (reference: string) =>
      `the corners seem to begin at another corner than the top left of ${reference}: its width and height look swapped`,
    mend: 'give them clockwise from its own top left',
  },
  'ends-not-finite': { ...PICKS, say: 'an end is not a pair of numbers' },
  'ends-outside': {
    ...PICKS,
    means: 'the ends belong to another still, or to one of another size: click them again on this one',
    say: (end: number, x: number, y: number, width: number, height: number) =>
      `end ${end} at ${x}, ${y} lies outside the still of ${width} x ${height} px`,
  },
  'ends-coincident': { ...PICKS, say: 'the two ends are less than a pixel apart' },
  'height-decides': {
    ...PICKS,
    means:
      'a short height is known worst and decides the density: zoom in and click more exactly, or carry a board, which is higher',
    say: (heightPx: number, share: number, isClicked: boolean) =>
      `the height is only ${printedValue(heightPx, 0)} px and known to ${percent(share)}, which limits the result: ` +
      (isClicked ? 'zoom in and click more exactly, or carry a board' : 'carry a board'),
  },
  'pose-unknown': {
    topic: 'lens',
    means:
      'the corners are no view of the reference through the lens that the walk is read with, so how it was turned is not told: check the corners and the fields of view',
    say: 'the lens as given cannot show a flat rectangle with these corners',
  },

  'snap-side': {
    ...PICKS,
    code: 'snap-no-fit',
    means: 'one side of the outline could not be fitted, for the reason that is given: look at that side',
    say: (side: string, reference: string, why: string) => `the ${side} of ${reference}: ${why}`,
  },
  'snap-not-straight': { ...SNAP_BROKEN_EDGE, say: 'what is there is no straight edge' },
  'snap-unlike-sides': {
    ...PICKS,
    say: (side: string) => `its ${side} looks unlike the others: its edge may be that of something else`,
  },
  'snap-no-corners': { ...SNAP_NO_FIT, say: 'its sides do not meet in four corners' },
  'snap-characters-too-near': {
    ...PICKS,
    code: 'snap-too-small',
    say: (reference: string) => `${reference} is so small here that its characters run into its rim`,
    mend: LEAVE_OR_BOARD,
  },
  'snap-border-unknown': {
    ...PICKS,
    say: (reference: string, px: number) =>
      `a border along the rim of ${reference} would not be seen at this size: its rim may lie ${printedValue(px, 1)} px farther out`,
    mend: 'say in walk.yaml how it is made (border)',
  },
  'snap-shape': {
    ...PICKS,
    say: (percent: number) =>
      `its shape is ${printedValue(percent, 1)} % off that of its reference held square`,
    mend: "check that it is the reference's own rim",
  },
  'pick-doubted': {
    ...PICKS,
    say: (codes: readonly string[], others: number) =>
      `the fit of its outline was doubted (${codes.map((code) => DOUBTS[code] ?? code).join('; ')})${others === 0 ? '' : ': the interval holds every outline that may be meant'}`,
    mend: 'click its four corners closely',
  },
  'snap-too-small': { ...PICKS, say: 'the reference is too small in the still' },
  'snap-no-edge': { ...PICKS, say: 'no edge stands out beside it' },
  'snap-two-edges': {
    ...PICKS,
    say: (apartPx: number) => `two edges lie near it, ${printedValue(apartPx, 1)} px apart`,
    mend: 'put it nearer to the one that is meant',
  },
  'snap-crowded': {
    ...PICKS,
    code: 'snap-two-edges',
    say: 'a border or characters run beside it, closer than the still resolves',
    mend: LEAVE_OR_BOARD,
  },
  'snap-shown-in-parts': { ...SNAP_BROKEN_EDGE, say: 'its edge shows only in parts' },
  'snap-broken-edge': { ...PICKS, say: 'its edge is hidden or broken in parts' },
  'snap-clipped': { ...PICKS, say: 'its edge runs into white, which pushes it outward' },
  'snap-no-fit': { ...PICKS, say: 'no straight edge could be fitted to it' },
  'snap-no-clean-edge': { ...SNAP_NO_FIT, say: 'what is there is no clean edge' },
  'snap-moved-far': {
    ...PICKS,
    say: (moved: readonly { side: string; movedPx: number }[]) =>
      `moved far from where it was put (${moved.map(({ side, movedPx }) => `${side} ${printedValue(movedPx, 1)} px`).join(', ')})`,
    mend: "check that it is the reference's own rim",
  },
  'edges-run-together': { ...NOT_CONVERGED, say: 'the edges run into each other' },
  'edge-gone': { ...NOT_CONVERGED, say: 'the edge is gone' },
  'strip-too-narrow': { ...PROGRAM, code: 'not-determined', say: 'the strip is too narrow' },

  'detail-untold': {
    ...DETAIL,
    code: 'detail-no-fit',
    means: 'the edges of the reference do not tell how sharp the picture is, for the reason that is given',
    say: (edges: string, why: string) => `detail not measured on the ${edges} edges: ${why}`,
  },
  'detail-too-small': {
    ...DETAIL,
    say: 'the reference is too small in the still to tell detail on its edges',
  },
  'detail-edges-too-short': { ...TOO_SMALL, say: 'the edges are too short in the still for their blur' },
  'detail-blur-too-wide': { ...TOO_SMALL, say: 'the reference is too small in the still for its blur' },
  'detail-no-contrast': {
    ...DETAIL,
    say: 'the sides of the reference do not stand out from what is beside them',
  },
  'detail-no-quiet-ground': {
    ...DETAIL,
    means:
      'detail is read from the edges of a board, which need plain background on both sides: carry a board with a wide dark rim, or the chart',
    say: 'they need 4 px of plain background on both sides',
  },
  'detail-clipped': {
    ...DETAIL,
    say: 'the edges run into white or black, which makes them look sharper than they are',
  },
  'detail-no-fit': { ...DETAIL, say: 'no edge could be fitted to the sides of the reference' },
  'detail-no-blur': { ...DETAIL, code: 'detail-no-fit', say: 'the segments of the edges do not tell a blur' },
  'detail-halo': {
    ...DETAIL,
    means:
      'the edges look like no blurred edge: the camera sharpens strongly, or a thin border runs along the reference; turn sharpening down, or carry a board without a border',
    say: (share: number) =>
      `the edges have a halo or a shape that no blur explains (${percent(share)} of the step)`,
  },
  'detail-halo-on-one-side': {
    ...DETAIL,
    code: 'detail-halo',
    say: 'a thin border or a halo on one side only runs along the edges, which no blur explains',
  },
  sharpened: {
    ...DETAIL,
    means:
      'the camera sharpens by over 10 %, which looks like detail and is none: what is told is the blur beneath, and turning sharpening down shows it',
    say: (overshoot: number) =>
      `the camera sharpens: edges overshoot by ${percent(overshoot)}; detail is that of the blur beneath`,
  },
  moving: {
    ...DETAIL,
    means:
      'one direction alone is blurred, as by a step while the shutter is open: detail and density are those of something that moves; stand still for a mark, or expose for less time',
    say: (smearPx: number, isAcross: boolean) =>
      `smeared ${isAcross ? 'sideways' : 'up and down'} by about ${printedValue(smearPx, 1)} px and not the other way: it moved while the shutter was open`,
  },
  'no-surface': {
    ...DETAIL,
    say: 'a length has no surface to tell detail or tone on',
    mend: 'carry a board as well',
  },

  'washed-out': {
    ...CONTRAST,
    means:
      'so much of the reference is at white that nothing on it stands out: turn the lamp or the exposure down, or carry the reference farther from the lamp',
    say: (white: number, contrast: number) =>
      `washed out: ${percent(white)} of the reference is at white, contrast ${percent(contrast)}`,
  },
  'too-noisy': {
    ...CONTRAST,
    means: 'a stroke of the size that a grade needs is lost in the noise: more light, or a longer exposure',
    say: (k: number, least: number) =>
      `too noisy: a stroke stands out ${printedValue(k, 1, [least])} times, ${least} is needed`,
  },
  'no-two-levels': {
    ...CONTRAST,
    means:
      'strokes and ground look alike, as with inks that vanish under infrared: check that the reference shows in this light',
    say: (contrast: number) => `strokes and ground cannot be told apart, contrast ${percent(contrast)}`,
  },
  'clipped-bright': {
    ...CONTRAST,
    means:
      'a good part of the bright ground is at white, so contrast may be more than is told: expose it less',
    say: (share: number) => `${percent(share)} of the bright ground is at white`,
  },
  'few-even-squares': {
    ...CONTRAST,
    means:
      'too few even pixels to hold noise against contrast for every grade: a larger board, or a nearer mark',
    say: 'fewer than 8 even squares as large as a stroke: noise against contrast is not told for every grade',
  },
  'may-be-processed': {
    ...CONTRAST,
    means:
      'noise reduction in camera or recorder smooths noise, and takes faint fine strokes with it: set it lower, or export at a higher bitrate; the strips beside the chart show what is left',
    say: 'the camera or recorder may have smoothed this still: neighbouring pixels share their noise',
  },
  'k-upper-bound': {
    ...CONTRAST,
    means:
      'noise that small is often smoothed away inside the camera, and detail with it, so contrast against noise is at most what is told',
    say: 'noise is under one code value, so k is an upper bound',
  },
  'tone-too-small': {
    ...CONTRAST,
    say: (what: string) => `the ${what} has too few pixels in the still to tell its tone`,
  },

  'coarse-levels': {
    ...STILLS,
    means:
      'the still has few levels of grey, as a screenshot has: export the still from the recorder instead',
    say: 'the code values stand in coarse steps: a screenshot or a re-encoded export, not the camera’s still',
  },
  'repeated-pixels': {
    ...STILLS,
    means: `${SCALED_UP}: export the main stream at full size`,
    say: (period: number, lines: string) =>
      `pixels are repeated every ${period} ${lines}: the still was scaled up, and its pixels are not the camera's`,
  },
  enlarged: {
    ...STILLS,
    means: `${SCALED_UP}: export the main stream at full size`,
    say: (times: number) =>
      `the still was enlarged about ${printedValue(times, 2)} times: its pixels are the export's, and show no detail finer than the old ones`,
  },
  interlaced: {
    ...STILLS,
    means:
      'odd and even rows were taken at two times, so upright edges are torn: set the camera to full frames',
    say: (offsetPx: number) =>
      `odd and even rows lie ${printedValue(offsetPx, 1)} px apart at upright edges: the still joins two fields`,
  },

  'other-paper': { ...PROGRAM, say: (paper: string) => `the chart in this still is not the ${paper} one` },
  'chart-covered': { ...CHART, say: 'too much of the chart is covered or in another light' },
  bent: { ...PROGRAM, say: 'the chart is bent in a way that cannot be put right' },
  'chart-bent': {
    ...CHART,
    means:
      'the chart is curled, or bent by the lens: its density is that of its middle, and stated less surely; mount it on a flat board',
    say: (modules: number) =>
      `the chart is bent, curled or by the lens, up to ${printedValue(modules, 2)} modules at its corners: its density is told for its middle and less surely`,
  },
  'chart-uneven-light': {
    ...CHART,
    means:
      "a shadow or a lamp's spot lies across the chart: its light is read place by place, and the interval of its density is wider",
    say: 'the light falls unevenly across the chart, a shadow or a lamp; its density is stated less sharply for it',
  },
  'chart-washed-out': {
    ...CHART,
    say: "the chart's paper is at white, so its edges look sharper than they are: expose it less",
  },
  'chart-ink-clipped': {
    ...CHART,
    say: "the chart's ink is at black, so the feet of its edges are cut off: give it more light or exposure",
  },
  'chart-steep-tones': {
    ...CHART,
    code: 'chart-ink-clipped',
    say: "the chart's ink is near black and the camera's tone curve a steep one: give it more light or exposure",
  },
  'chart-sharpened': {
    ...CHART,
    means:
      'the camera sharpens in a way that no halo explains: turn sharpening down and take the still again',
    say: (overshoot: number) =>
      `the camera sharpens its picture (its edges overshoot by ${percent(overshoot)}), which hides what its lens sees`,
  },
  'chart-too-noisy': {
    ...CHART,
    means: 'noise leaves MTF50 open by more than 10 %: more light, or a nearer mark',
    say: 'the chart is too noisy for its sharpness to be measured',
  },
  lifted: {
    ...CHART,
    means:
      'the camera sharpens: MTF50, MTF10 and the curve are those of the blur beneath its halo, which is what its lens sees',
    say: (overshoot: number, mtf50: number | null) =>
      `the camera sharpens its picture: edges overshoot by ${percent(overshoot)}${mtf50 === null ? '' : `, which would read as an MTF50 of ${printedValue(mtf50, 2)} cycles/px`}; what counts is the blur beneath`,
  },
  'sharpness-ways-differ': {
    ...CHART,
    means:
      'the edges of the chart and the fit of all of it tell another blur: the camera sharpens or the still was scaled or shaken',
    say: 'the edges and the fitted blur disagree: the picture may be sharpened, enlarged or moved',
  },
  'tones-too-small': {
    ...PROGRAM,
    code: 'too-small',
    say: 'the chart is too small for its tone strip',
  },
  'lines-resolved': { ...PROGRAM, say: 'the chart is so near that its fine lines show' },
  'line-widths-differ': { ...NOT_MONOTONE, say: "the tone strip's two line widths do not agree" },
  'levels-out-of-order': { ...NOT_MONOTONE, say: "the tone strip's levels are not in order" },
})

function percent(share: number): string {
  return `${printedValue(100 * share, 0)} %`
}
