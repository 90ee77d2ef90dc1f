import { catalogue } from '../../sentences.js'

/** What registering the stills of a walk tells of camera and export. Figures come printed. */
export const sceneSays = catalogue({
  'another-view': {
    topic: 'stills',
    means:
      'a still does not show the scene of the others of its light, although both have enough to see. It is left out',
    say: (light: string) =>
      `left out: it shows another view than the other stills of ${light}. It is from another camera, or the camera was turned far`,
  },
  'views-tie': {
    code: 'another-view',
    topic: 'stills',
    say: (light: string) => `the stills of ${light} show two views, equally often, so none of them counts`,
    mend: 'take the stills of the other camera out',
  },
  'enlarged-scene': {
    topic: 'stills',
    means:
      'the scene is larger or smaller in a still than in the others of its light. It was zoomed or enlarged in the export, and is left out',
    say: (by: string, isLarger: boolean, light: string) =>
      `its scene is ${by} % ${isLarger ? 'larger' : 'smaller'} than in the other stills of ${light}, so it is left out. It was zoomed, or enlarged in the export`,
    mend: 'export it at the full size of the stream',
  },
  'cropped-still': {
    topic: 'stills',
    means: 'a still shows only part of the scene, enlarged to the full size. It is left out',
    say: (by: string, light: string, off: string) =>
      `its scene is ${by} % larger than in the other stills of ${light}, and its middle lies ${off} px off. It was cut out and enlarged, so it is left out`,
    mend: 'export the whole picture',
  },
  'scales-tie': {
    code: 'enlarged-scene',
    topic: 'stills',
    say: (by: string, light: string) =>
      `the stills of ${light} show the scene at two sizes, ${by} % apart, equally often, so none of them counts`,
    mend: 'export all of them the same way',
  },
  'camera-turned': {
    topic: 'stills',
    means:
      'fixed things lie elsewhere in some stills: the camera was knocked or turned between them. Densities hold, but it looks at something else',
    say: (stills: string, light: string, by: string) =>
      `${light}: in ${stills} the camera points ${by} of where it points in the other stills`,
  },
  'picture-shifted': {
    code: 'camera-turned',
    topic: 'stills',
    say: (stills: string, light: string, by: string) =>
      `${light}: in ${stills} fixed things lie ${by} of where they lie in the other stills, so the camera was turned`,
  },
  'turned-between-lights': {
    code: 'camera-turned',
    topic: 'stills',
    say: (light: string, against: string, by: string) =>
      `${light}: the camera points ${by} of where it pointed by ${against}`,
  },
  'shifted-between-lights': {
    code: 'camera-turned',
    topic: 'stills',
    say: (light: string, against: string, by: string) =>
      `${light}: fixed things lie ${by} of where they lay by ${against}. The camera was turned, or the picture is cropped differently`,
  },
  'scene-zoomed': {
    code: 'zoomed-between-lights',
    topic: 'marks',
    say: (light: string, against: string, by: string, isLarger: boolean) =>
      `${light}: the scene is ${by} % ${isLarger ? 'larger' : 'smaller'} than by ${against}. It was zoomed, or these stills are of another stream`,
  },
  unsteady: {
    topic: 'stills',
    means:
      'the camera points slightly elsewhere in many stills: wind, a weak mount or stabilisation. Densities hold, but a moving camera blurs',
    say: (light: string, within: string, count: number) =>
      `${light}: the camera is not steady. Over ${count} stills it points within ${within} of its usual direction`,
    mend: 'look at its mount, and at stabilisation',
  },
  'stood-still': {
    topic: 'stills',
    say: (light: string, within: string, count: number, all: number) =>
      `${light}: the scene stood still within ${within} over ${count === all ? '' : `${count} of `}${all} stills`,
  },
  'scene-not-told': {
    topic: 'stills',
    means:
      'too little of the scene was found in several stills to say whether the camera stayed still. Reasons are dark, fog, a bare wall, or a single still',
    say: (light: string) => `${light}: it is not known whether the scene stood still`,
  },
})
