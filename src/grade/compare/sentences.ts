import { catalogue } from '../../sentences.js'
import { F10 } from '../sentences.js'

/** What is said of a pair of walks. Figures come printed, by the printer of the later one. */
export const compareSays = catalogue({
  'other-camera': { topic: 'compare', say: (how: string) => `not the same camera: ${how}` },
  'other-still-size': {
    topic: 'compare',
    say: (before: string, after: string) =>
      `the stills are ${before} px before and ${after} px after. It is another stream or export, so pixels do not compare`,
  },
  'same-picture': {
    topic: 'compare',
    means:
      'one picture has two names. Within a walk, under two marks or lights, it does not count. In two walks it shows no change',
    say: (both: number, all: number) =>
      `${both} of the ${all} later pictures are also in the earlier walk, so they show no change`,
    mend: 'write sameAs or distinct under stills in walk.yaml, or export the stills of each walk again',
  },
  'alike-picture': {
    topic: 'compare',
    code: 'same-picture',
    say: (both: number, all: number) =>
      `${both} of the ${all} later pictures may be earlier ones, encoded again: they have the same noise`,
    mend: 'export the stills of each walk again',
  },
  'other-method': {
    topic: 'compare',
    say: (before: string, after: string) => `measured by method ${before} before and ${after} after`,
    mend: 'measure both again',
  },
  'other-distances': {
    topic: 'compare',
    say: (before: string, after: string) =>
      `distances were measured from the ${before} before and from the ${after} after, so the marks are not the same places`,
  },
  'other-grading': {
    topic: 'compare',
    say: (before: string, after: string) =>
      `judged by ${before} before and by ${after} after: compare densities, not verdicts`,
  },
  'other-reference': {
    topic: 'compare',
    say: (name: string, before: string, after: string) =>
      `${name} was ${before} before and is ${after} after. It is treated as another object, so its size uncertainty counts twice`,
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
      'density changed everywhere, more at near marks than at far ones. The camera was moved along its view, or the tape measure started elsewhere; densities cannot distinguish the two',
    say: (change: string, by: string, isNearer: boolean) =>
      `density changed everywhere, by ${change} on the whole, more at near marks than at far ones. The camera is about ${by} ${isNearer ? 'nearer to' : 'farther from'} the marks, or the tape measure started that much elsewhere`,
  },
  zoomed: {
    code: 'moved-or-zoomed',
    topic: 'compare',
    means: 'density changed everywhere, by the same share near and far: it was zoomed, or its lens changed',
    say: (change: string) =>
      `density changed everywhere by ${change}, by the same share near and far: it was zoomed, or its lens changed`,
  },
  'moved-or-zoomed': {
    topic: 'compare',
    say: (change: string) => `density changed everywhere by ${change}: the camera was moved or zoomed`,
  },
  'reference-or-hand': {
    topic: 'compare',
    means:
      'only references that were clicked or made differently changed, so it was not the camera. Measure them, and click the same edges on both walks',
    say: (which: string, change: string, others: string) =>
      `density changed on the ${which} alone, by ${change}; the ${others} did not change. The cause is its size or the clicking, not the camera`,
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
      `${found}. The marks cannot distinguish it from ${others.join(', or from ')}`,
  },
  'points-elsewhere': {
    topic: 'compare',
    means:
      'the camera looks elsewhere: it was knocked. Fixed things in the stills show it, or else what is carried, and then sideways is not reported',
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
    say: 'The scene does not show whether the camera still looks where it did: too little of it is found again',
  },
  'density-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means: 'density changed in one light alone: the picture is scaled or cropped there, or of another stream',
    say: (lights: string, change: string) =>
      `density changed ${lights} alone, by ${change}: the picture is scaled or cropped there, or of another stream`,
  },
  'less-detail-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means: 'detail was lost in one light alone: its focus, its lamp, or dirt that shows in that light',
    say: (lights: string, change: string, whose: string) =>
      `less detail ${lights} alone: ${F10}, changed by ${change}. Check ${whose} focus and lamp, and dirt that shows in that light`,
  },
  'more-detail-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means: 'one light alone shows more detail: it was focused or cleaned',
    say: (lights: string, change: string) =>
      `more detail ${lights} alone: ${F10}, changed by ${change}. It was focused for that light, or cleaned`,
  },
  'focus-or-dirt': {
    topic: 'compare',
    means: 'less detail in every light: the focus, or dirt or damp on the window',
    say: (density: string, change: string) =>
      `${density}, less detail: ${F10}, changed by ${change}. Check the focus, and dirt or damp on the window`,
  },
  sharper: {
    topic: 'compare',
    means: 'more detail in every light: it was focused or cleaned',
    say: (density: string, change: string) =>
      `${density}, more detail: ${F10}, changed by ${change}. It was focused or cleaned`,
  },
  'contrast-in-one-light': {
    code: 'one-light',
    topic: 'compare',
    means:
      'less stands out from the noise in one light alone: its lamp has failed, is dirty or points elsewhere',
    say: (lights: string, what: string) =>
      `less stands out from the noise ${lights} alone (${what}): its lamp has failed, is dirty or points elsewhere`,
  },
  'less-contrast': {
    topic: 'compare',
    means:
      'less stands out from the noise in every light: exposure, dirt or damp on the window, or a failing sensor',
    say: (what: string) =>
      `less stands out from the noise in every light (${what}): exposure, dirt or damp on the window, or a failing sensor`,
  },
  'density-at-one-mark': {
    code: 'one-mark',
    topic: 'compare',
    means: 'one mark alone has another density: its distance, its still, or how the reference was held',
    say: (mark: string, change: string) =>
      `${mark} mark alone has another density, ${change}: its distance, its still or how the reference was held`,
  },
  'detail-at-one-mark': {
    code: 'one-mark',
    topic: 'compare',
    means: 'one mark alone has another share of detail: its still, or motion',
    say: (mark: string, change: string) =>
      `${mark} mark alone has another share of detail, ${change}: its still, or motion`,
  },
})
