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
const SCALED_UP =
  'the pixels of the still are not those of the camera, so its density does not measure the camera'

/** All that measuring says of a still: problems with what could be told, and why the rest could not. */
export const measureSays = catalogue({
  'pick-sigma': { ...BAD_ARGUMENT, say: (sigmaPx: number) => `a pick's sigma is ${sigmaPx} px` },
  'pick-covariance': {
    ...BAD_ARGUMENT,
    say: (size: number) => `a pick's covariance is not a ${size} x ${size} covariance`,
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
    means: 'the corners belong to another still or another size: click them again on this one',
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
    say: 'the four corners cannot be those of a flat rectangle',
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
    means: 'the ends belong to another still or another size: click them again on this one',
    say: (end: number, x: number, y: number, width: number, height: number) =>
      `end ${end} at ${x}, ${y} lies outside the still of ${width} x ${height} px`,
  },
  'ends-coincident': { ...PICKS, say: 'the two ends are less than a pixel apart' },
  'height-decides': {
    ...PICKS,
    means:
      'a short height is the least exact side and limits the result. Zoom in and click more exactly, or carry a board, which is higher',
    say: (heightPx: number, share: number, isClicked: boolean) =>
      `the height is only ${printedValue(heightPx, 0)} px and known to ${percent(share)}, which limits the result: ` +
      (isClicked ? 'zoom in and click more exactly, or carry a board' : 'carry a board'),
  },
  'pose-unknown': {
    topic: 'lens',
    means:
      'through the lens used for this walk the corners do not fit the reference, so its turn is not reported. Check the corners and the fields of view',
    say: 'the lens as given cannot show a flat rectangle with these corners',
  },

  'snap-side': {
    ...PICKS,
    code: 'snap-no-fit',
    means: 'one side of the outline could not be fitted, for the reason that is given: look at that side',
    say: (side: string, reference: string, why: string) => `the ${side} of ${reference}: ${why}`,
  },
  'snap-not-straight': { ...SNAP_BROKEN_EDGE, say: 'the edge there is not straight' },
  'snap-unlike-sides': {
    ...PICKS,
    say: (side: string) => `its ${side} looks unlike the others and may be the edge of something else`,
  },
  'snap-no-corners': { ...SNAP_NO_FIT, say: 'its sides do not meet in four corners' },
  'snap-characters-too-near': {
    ...PICKS,
    code: 'snap-too-small',
    say: (reference: string) => `${reference} is so small here that its characters run into its rim`,
    mend: LEAVE_OR_BOARD,
  },
  'snap-small-unknown': {
    ...PICKS,
    code: 'snap-too-small',
    say: (reference: string) =>
      `${reference} is so small here that its characters run into its rim, and nobody said how its border is made`,
    mend: 'say in walk.yaml how it is made (border), or leave it as clicked',
  },
  'snap-border-unknown': {
    ...PICKS,
    say: (reference: string, px: number) =>
      `a border along the rim of ${reference} would not show at this size, so its rim may lie ${printedValue(px, 1)} px farther out`,
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
  'snap-ends-unseen': {
    ...PICKS,
    code: 'snap-too-small',
    say: 'neither end of the plate shows an edge, and at this size its characters run into its rim',
  },
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
  'snap-clipped': { ...PICKS, say: 'its edge runs into pure white, which pushes it outward' },
  'snap-no-fit': { ...PICKS, say: 'no straight edge could be fitted to it' },
  'snap-no-clean-edge': { ...SNAP_NO_FIT, say: 'the edge there is not clean' },
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
    means: 'the edges of the reference do not show how sharp the picture is, for the reason given',
    say: (edges: string, why: string) => `detail not measured on the ${edges} edges: ${why}`,
  },
  'detail-too-small': {
    ...DETAIL,
    say: 'the reference is too small in the still to measure detail on its edges',
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
      'detail is read from the edges of a board, which need plain background on both sides. Carry a board with a wide dark rim, or the chart',
    say: 'they need 4 px of plain background on both sides',
  },
  'detail-clipped': {
    ...DETAIL,
    say: 'the edges run into pure white or black, which makes them look sharper than they are',
  },
  'detail-no-fit': { ...DETAIL, say: 'no edge could be fitted to the sides of the reference' },
  'detail-no-blur': { ...DETAIL, code: 'detail-no-fit', say: 'the pieces of the edges do not give a blur' },
  'detail-halo': {
    ...DETAIL,
    means:
      'the edges do not look like blurred edges: strong sharpening, or a thin border along the reference. Turn sharpening down, or carry a board without a border',
    say: (share: number) =>
      `the edges have a halo or a shape that no blur explains (${percent(share)} of the step)`,
  },
  'detail-halo-on-one-side': {
    ...DETAIL,
    code: 'detail-halo',
    say: 'along the edges runs a thin border, or a halo on one side only, which no blur explains',
  },
  sharpened: {
    ...DETAIL,
    means:
      'the camera sharpens by over 10 %, which looks like detail but is not. The blur beneath is what is reported; turn sharpening down to see it',
    say: (overshoot: number) =>
      `the camera sharpens, so edges overshoot by ${percent(overshoot)}. The detail reported is that of the blur beneath`,
  },
  'may-be-sharpened': {
    ...DETAIL,
    means:
      'a bright or dark seam runs along the edges. Sharpening or local contrast leaves one, and lifts detail with it. Set both lower, or use the strips under the chart',
    say: 'the camera or recorder may have sharpened this still, because its edges show a faint halo',
  },
  moving: {
    ...DETAIL,
    means:
      'only one direction is blurred, as by a step while the shutter is open. The figures are those of something moving: stand still, or use a shorter exposure',
    say: (smearPx: number, isAcross: boolean) =>
      `smeared ${isAcross ? 'sideways' : 'up and down'} by about ${printedValue(smearPx, 1)} px in one direction only: it moved while the shutter was open, or the recorder smeared it`,
  },
  'no-surface': {
    ...DETAIL,
    say: 'a length has no surface on which detail or tone can be measured',
    mend: 'carry a board as well',
  },

  'washed-out': {
    ...CONTRAST,
    means:
      'so much of the reference is pure white that nothing on it stands out. Turn the lamp or the exposure down, or hold the reference farther from the lamp',
    say: (white: number, contrast: number) =>
      `washed out: ${percent(white)} of its surface is pure white, contrast ${percent(contrast)}`,
  },
  'too-noisy': {
    ...CONTRAST,
    means: 'a stroke of the size that the grade needs is lost in noise: use more light or a longer exposure',
    say: (k: number, least: number) =>
      `too noisy: a stroke stands out only ${printedValue(k, 1, [least])} times, ${least} needed`,
  },
  'no-two-levels': {
    ...CONTRAST,
    means:
      'strokes and background look alike, as with inks that vanish under infrared. Check that the reference shows in this light',
    say: (contrast: number) =>
      `strokes cannot be distinguished from their background, contrast ${percent(contrast)}`,
  },
  'clipped-bright': {
    ...CONTRAST,
    means:
      'much of the bright background is pure white, so contrast may be more than reported: use less exposure',
    say: (share: number) => `${percent(share)} of the bright background is pure white`,
  },
  'part-rough': {
    ...CONTRAST,
    means:
      'a plain board is equally rough all over. Something lies before a part of it, or the file is damaged: look at the still, and export it again',
    say: 'one quarter of the board is many times as rough as another: it is covered there, or the file is damaged',
  },
  'few-even-squares': {
    ...CONTRAST,
    means:
      'there are too few even pixels to compare contrast with noise for every grade: use a larger board, or a nearer mark',
    say: "contrast against noise is not reported for every grade: there are fewer than 8 even squares of a stroke's size",
  },
  'may-be-processed': {
    ...CONTRAST,
    means:
      'noise reduction in camera or recorder also removes faint fine strokes. Set it lower, or export at a higher bitrate. The strips beside the chart show what is left',
    say: 'the camera or recorder may have smoothed this still, because neighbouring pixels share their noise',
  },
  'k-upper-bound': {
    ...CONTRAST,
    means:
      'such low noise often means smoothing inside the camera, which takes detail too. So contrast against noise is at most what is reported',
    say: 'noise is under one grey level, so contrast against noise (k) is an upper bound',
  },
  'tone-too-small': {
    ...CONTRAST,
    say: (what: string) => `the ${what} has too few pixels in the still to measure its tone`,
  },

  'coarse-levels': {
    ...STILLS,
    means: 'the still has few levels of grey, like a screenshot: export it from the recorder instead',
    say: 'grey levels come in coarse steps, so this is a screenshot or a re-encoded export, not the camera’s still',
  },
  'repeated-pixels': {
    ...STILLS,
    means: `${SCALED_UP}: export the main stream at full size`,
    say: (period: number, lines: string) =>
      `pixels repeat every ${period} ${lines}: the still was scaled up, so its pixels are not the camera's`,
  },
  enlarged: {
    ...STILLS,
    means: `${SCALED_UP}: export the main stream at full size`,
    say: (times: number) =>
      `the still was enlarged about ${printedValue(times, 2)} times: its pixels are the export's and show no finer detail than the original ones`,
  },
  interlaced: {
    ...STILLS,
    means:
      'odd and even rows were taken at different times, so upright edges look torn: set the camera to full frames',
    say: (offsetPx: number) =>
      `odd and even rows lie ${printedValue(offsetPx, 1)} px apart at upright edges, because the still joins two fields`,
  },

  'other-paper': { ...PROGRAM, say: (paper: string) => `the chart in this still is not the ${paper} one` },
  'chart-covered': { ...CHART, say: 'too much of the chart is covered or in another light' },
  bent: { ...PROGRAM, say: 'the chart is bent in a way that cannot be corrected' },
  'chart-bent': {
    ...CHART,
    means:
      'the chart is curled, or bent by the lens. The density reported is that of its middle and less certain. Mount it on a flat board',
    say: (modules: number) =>
      `the chart is bent, by curling or by the lens, by up to ${printedValue(modules, 2)} modules at its corners. The density of its middle is reported, less certainly`,
  },
  'chart-uneven-light': {
    ...CHART,
    means:
      "a shadow or a lamp's spot lies across the chart. The light is measured at each place, and the density's interval is wider",
    say: 'a shadow or a lamp lights the chart unevenly, so its density is less certain',
  },
  'chart-washed-out': {
    ...CHART,
    say: "the chart's paper is pure white, so its edges look sharper than they are: use less exposure",
  },
  'chart-ink-clipped': {
    ...CHART,
    say: "the chart's ink is pure black, so its edges are cut off: use more light or exposure",
  },
  'chart-steep-tones': {
    ...CHART,
    code: 'chart-ink-clipped',
    say: "the chart's ink is near black and the camera's tone curve is steep: use more light or exposure",
  },
  'chart-sharpened': {
    ...CHART,
    means:
      'the camera sharpens in a way that cannot be undone: turn sharpening down and take the still again',
    say: (overshoot: number) =>
      `the camera sharpens its picture (edges overshoot by ${percent(overshoot)}), which hides what its lens sees`,
  },
  'chart-too-noisy': {
    ...CHART,
    means: 'noise leaves MTF50 uncertain by more than 10 %: use more light, or a nearer mark',
    say: 'the chart is too noisy for its sharpness to be measured',
  },
  lifted: {
    ...CHART,
    means:
      'the camera or the codec sharpens edges. MTF50, MTF10 and the curve are those of the blur beneath the halo, which is what its lens sees',
    say: (overshoot: number, mtf50: number | null) =>
      `the camera or the codec sharpens edges: they overshoot by ${percent(overshoot)}${mtf50 === null ? '' : `, which would read as an MTF50 of ${printedValue(mtf50, 2)} cycles/px`}. What counts is the blur beneath`,
  },
  'sharpness-ways-differ': {
    ...CHART,
    means:
      'the edges of the chart and the fit of the whole chart give different blurs. The camera sharpens, or the still was scaled or shaken',
    say: 'the edges and the fitted blur disagree: the picture may be sharpened, enlarged or moved',
  },
  'tones-too-small': {
    ...PROGRAM,
    code: 'too-small',
    say: 'the chart is too small for its tone strip',
  },
  'lines-resolved': { ...PROGRAM, say: 'the chart is so near that its fine lines are visible' },
  'line-widths-differ': { ...NOT_MONOTONE, say: "the tone strip's two line widths do not agree" },
  'levels-out-of-order': { ...NOT_MONOTONE, say: "the tone strip's levels are not in order" },
})

function percent(share: number): string {
  return `${printedValue(100 * share, 0)} %`
}
