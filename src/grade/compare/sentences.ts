import { catalogue } from '../../sentences.js'
import { F10 } from '../sentences.js'

/** What is said of a pair of walks. Figures come printed, by the printer of the later one. */
export const compareSays = catalogue({
  'other-camera': { topic: 'compare', say: (how: string) => `not the same camera: ${how}` },
  'other-still-size': {
    topic: 'compare',
    say: (before: string, after: string) =>
      `the stills are ${before} px before and ${after} px after: another stream or export, so pixels do not compare`,
  },
  'same-picture': {
    topic: 'compare',
    means:
      'one picture stands under two names: in one walk under two marks or lights, where it counts nowhere, or in two walks, where it shows no change',
    say: (both: number, all: number) =>
      `${both} of the ${all} later pictures stand in the walk before as well: they show no change`,
    mend: 'say sameAs or distinct under stills in walk.yaml, or export the stills of each walk anew',
  },
  'other-method': {
    topic: 'compare',
    say: (before: string, after: string) => `measured by method ${before} before and ${after} after`,
    mend: 'measure both anew',
  },
  'other-distances': {
    topic: 'compare',
    say: (before: string, after: string) =>
      `distances were taped from the ${before} before and from the ${after} after, so the marks are not the same places`,
  },
  'other-grading': {
    topic: 'compare',
    say: (before: string, after: string) =>
      `judged by ${before} before and by ${after} after: verdicts do not compare, densities do`,
  },
  'other-reference': {
    topic: 'compare',
    say: (name: string, before: string, after: string) =>
      `${name} was ${before} before and is ${after} after: taken as another object, its size counts twice`,
  },
  'no-shared-mark': { topic: 'compare', say: 'no mark was measured in both walks' },
  'mark-not-shared': {
    topic: 'compare',
    say: (series: string, when: string, distances: string) =>
      `${series}: measured ${when} only, not compared: ${distances}`,
  },
  moved: {
    code: 'moved-or-zoomed',
    topic: 'compare',
    means:
      'another density everywhere, more near by than far off: the camera was moved along its view, or the tape began elsewhere, which densities do not tell apart',
    say: (change: string, by: string, isNearer: boolean) =>
      `another density everywhere, ${change} on the whole, more near by than far off: the camera stands some ${by} ${isNearer ? 'nearer to' : 'farther from'} the marks, or the tape began so far from where it did`,
  },
  zoomed: {
    code: 'moved-or-zoomed',
    topic: 'compare',
    means: 'another density everywhere, by the same share near and far: it was zoomed, or its lens changed',
    say: (change: string) =>
      `another density everywhere, ${change}, by the same share near and far: it was zoomed, or its lens changed`,
  },
  'moved-or-zoomed': {
    topic: 'compare',
    say: (change: string) => `another density everywhere, ${change}: the camera was moved or zoomed`,
  },
  'reference-or-hand': {
    topic: 'compare',
    means:
      'references that were clicked or made differently changed where others did not: tape them, and click the same edges on both walks; the camera did not change the density',
    say: (which: string, change: string, others: string) =>
      `another density on the ${which} alone, ${change}, where the ${others} did not change with it: its size or the hand that clicked it, not the camera`,
  },
  'only-reference': {
    code: 'reference-or-hand',
    topic: 'compare',
    say: (which: string, change: string) =>
      `another density on the ${which}, ${change}, while the scene is as large as before: its size or the hand that clicked it, not the camera`,
  },
  'as-likely': {
    topic: 'compare',
    say: (found: string, others: readonly string[]) =>
      `${found}; the marks do not tell it from ${others.join(', or from ')}`,
  },
  'points-elsewhere': {
    topic: 'compare',
    means:
      'the camera looks elsewhere: knocked. Told by what does not move in the stills; where that is not found again, by what is carried, and then sideways is not told',
    say: (degrees: string, isLower: boolean, within: string) =>
      `the camera looks ${degrees} degrees ${isLower ? 'lower' : 'higher'} than before (within ${within}): it was knocked or turned`,
  },
  'scene-turned': {
    code: 'points-elsewhere',
    topic: 'compare',
    say: (light: string, by: string) =>
      `the camera looks ${by} of where it looked before, seen ${light}: it was knocked or turned`,
  },
  'scene-shifted': {
    code: 'points-elsewhere',
    topic: 'compare',
    say: (light: string, by: string) =>
      `what does not move lies ${by} of where it lay before, seen ${light}: the camera was knocked or turned, or the picture is cut otherwise`,
  },
  'scene-scaled': {
    code: 'moved-or-zoomed',
    topic: 'compare',
    say: (light: string, by: string, isLarger: boolean) =>
      `the scene is ${by} % ${isLarger ? 'larger' : 'smaller'} than before, seen ${light}: it was zoomed, or the picture is scaled otherwise`,
  },
  'scene-same': {
    topic: 'compare',
    say: (light: string, within: string, scale: string) =>
      `Seen ${light}, the scene lies where it lay, within ${within}, and is as large, within ${scale} %`,
  },
  'scene-untold': {
    topic: 'compare',
    say: 'Whether the camera looks where it looked is not told by its scene: too little of it is found again',
  },
  'density-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means:
      'the density changed in one light alone: the picture is scaled or cropped there, or the stills are of another stream',
    say: (lights: string, change: string) =>
      `another density ${lights} alone, ${change}: the picture is scaled or cropped there, or these stills are of another stream`,
  },
  'less-detail-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means: 'detail was lost in one light alone: its focus, its lamp, or dirt that shows in that light',
    say: (lights: string, change: string, whose: string) =>
      `less detail ${lights} alone: ${F10}, changed by ${change}; ${whose} focus or lamp, or dirt that shows in that light`,
  },
  'more-detail-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means: 'one light alone shows more detail: it was focused or cleaned',
    say: (lights: string, change: string) =>
      `more detail ${lights} alone: ${F10}, changed by ${change}; that light was focused or cleaned`,
  },
  'focus-or-dirt': {
    topic: 'compare',
    means: 'less detail in every light: the focus, or dirt or damp on the window',
    say: (density: string, change: string) =>
      `${density}, less detail: ${F10}, changed by ${change}; the focus, or dirt or damp on the window`,
  },
  sharper: {
    topic: 'compare',
    means: 'more detail in every light: it was focused or cleaned',
    say: (density: string, change: string) =>
      `${density}, more detail: ${F10}, changed by ${change}; it was focused or cleaned`,
  },
  'contrast-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means: 'less stands out of the noise in one light alone: its lamp has failed, fouled or turned away',
    say: (lights: string, what: string) =>
      `less stands out ${lights} alone (${what}): its lamp or infrared light has failed, fouled or turned away`,
  },
  'less-contrast': {
    topic: 'compare',
    means:
      'less stands out of the noise in every light: exposure, dirt or damp on the window, or a failing imager',
    say: (what: string) =>
      `less stands out in every light (${what}): exposure, dirt or damp on the window, or a failing imager`,
  },
  'density-at-one-mark': {
    code: 'one-mark',
    topic: 'compare',
    means: 'one mark alone has another density: its tape, its still, or how the reference was held',
    say: (mark: string, change: string) =>
      `${mark} mark alone has another density, ${change}: its tape, its still or how the reference was held`,
  },
  'detail-at-one-mark': {
    code: 'one-mark',
    topic: 'compare',
    means: 'one mark alone has another share of detail: its still, or motion',
    say: (mark: string, change: string) =>
      `${mark} mark alone has another share of detail, ${change}: its still, or motion`,
  },
})
