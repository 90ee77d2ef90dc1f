import { catalogue } from '../../sentences.js'
import { trimmed } from '../../units/figures.js'
import type { Estimate } from '../../math/interval.js'
import { printedEstimate, printedValue } from '../../units/printedEstimate.js'

const WALK = { topic: 'walk' } as const
const LENS = { topic: 'lens' } as const

/** All that a plan says in sentences: of the lens as read, of the ground in view, of the paper, and of what walk.yaml does not say. */
export const planSays = catalogue({
  'lens-read': {
    ...LENS,
    say: (p: number, middle: Estimate, edge: number | null, straight: number | null) =>
      `read as lens type p = ${printedValue(p, 2)} (1 keeps straight lines straight, smaller values bend them outward): ${foretold(middle)} in the middle of the picture` +
      (edge === null ? '' : `, ${printedValue(edge, 0)} at its left and right edge`) +
      (straight === null
        ? ''
        : `. A lens that keeps straight lines straight would have ${printedValue(straight, 0)} in the middle`),
  },
  'lens-untold': {
    ...LENS,
    say: 'the data sheet does not describe the lens: it gives neither an angle nor a focal length with the size of a pixel',
  },
  'lens-in-doubt': {
    ...LENS,
    say: 'the data sheet contradicts itself about the lens. Check what was copied; nothing is predicted until it agrees',
  },
  'size-untold': { ...LENS, say: "add the still's size: the data sheet gives no pixel figures without it" },

  'tape-reads': {
    ...WALK,
    say: (by: string, isBefore: boolean) =>
      `all distances count from the lens. The tape measure starts ${by} ${isBefore ? 'in front of' : 'behind'} it and reads ${by} ${isBefore ? 'less' : 'more'}. Write marks and name stills as it reads`,
  },

  needs: {
    ...WALK,
    say: (withDetail: boolean) =>
      `a still needs so much for its whole interval to reach the limit by pixels, with corners clicked by hand${withDetail ? '. With detail it takes more' : ''}`,
  },

  'no-ground-in-view': {
    ...WALK,
    say: (height: string, tiltDeg: number) => `${from(height, tiltDeg)}, the camera sees no level ground`,
  },
  'ground-in-view': {
    ...WALK,
    say: (height: string, tiltDeg: number, begins: string | null, ends: string | null) =>
      `${from(height, tiltDeg)}, the ground is in view from ${begins ?? 'right below the camera'} to ${ends ?? 'the horizon'}${begins === null ? '' : ', along the ground'}`,
  },
  'reference-in-view': {
    ...WALK,
    say: (reference: string, begins: string, ends: string | null, outside: readonly string[]) =>
      `the middle of the carried ${reference} is in view from ${begins}${ends === null ? '' : ` to ${ends}`}${outside.length === 0 ? '' : `, but out of the picture at ${outside.join(', ')}`}`,
  },

  'paper-too-small': {
    topic: 'chart',
    say: (farthest: string, light: string, reach: string, pxPerModule: number) =>
      `no paper is large enough for ${farthest}. In ${light} even an A0 is found only out to ${reach} (${modules(pxPerModule)}): carry a board there and click its corners`,
  },
  'paper-to-print': {
    topic: 'chart',
    say: (
      paper: string,
      farthest: string,
      light: string,
      reach: string,
      pxPerModule: number,
      ownTooSmall: boolean,
    ) =>
      `the chart on ${paper}: in ${light} it is found out to ${reach} (${modules(pxPerModule)}). The farthest mark is ${farthest} away${ownTooSmall ? ". The walk's own chart is smaller and will be missed far out" : ''}`,
  },

  'image-missing': {
    ...WALK,
    say: 'the size of an exported still, camera.image (proofwalk new --still FILE reads it): needed to turn angles into pixels',
  },
  'angles-missing': {
    ...WALK,
    say: 'the field of view, camera.fieldOfView, both angles if known, or focalLength with pixelPitch: needed to predict density',
  },
  'angle-missing': {
    ...WALK,
    say: 'the second angle of camera.fieldOfView: it shows whether the lens bends lines, which changes every figure here',
  },
  'mount-missing': {
    ...WALK,
    say: (height: boolean, tilt: boolean) =>
      `${[...(height ? ['the height of the camera, camera.mountHeight'] : []), ...(tilt ? ['its tilt, camera.tilt'] : [])].join(', and ')}: shows where the view begins and ends on the ground`,
  },
  'carried-at-missing': {
    ...WALK,
    say: (reference: string) =>
      `the height at which the ${reference} is carried, carriedAt: needed to compare the line of sight with the distance along the ground`,
  },
  'strips-missing': {
    ...WALK,
    means:
      'noise reduction leaves strong edges crisp where faint things are gone, so a promise by detail in a light whose name does not begin with "day" cannot be met by edges: with the sheet of strips, low contrast is measured and decides',
    say: (lights: readonly string[]) =>
      `the sheet of strips, strip: A3 beside the chart or the board ("proofwalk chart --strip" prints it): without it no promise by detail can be met in ${lights.join(', ')}`,
  },
  'promises-missing': {
    ...WALK,
    say: 'what the camera was sold to do, promises: marks are then chosen around them',
  },
})

function foretold(pixelsPerRadian: Estimate): string {
  const { value, low, high } = printedEstimate(pixelsPerRadian)
  return low === high ? `${value} px per radian` : `${value} px per radian (${low} to ${high})`
}

function from(height: string, tiltDeg: number): string {
  return `from ${height} up, looking ${trimmed(tiltDeg, 1)} degrees down`
}

function modules(pxPerModule: number): string {
  return `${trimmed(pxPerModule, 2)} px per module, measured by this project`
}
