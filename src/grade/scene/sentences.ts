import { catalogue } from '../../sentences.js'

/** What registering the stills of a walk tells of camera and export. Figures come printed. */
export const sceneSays = catalogue({
  'another-view': {
    topic: 'stills',
    means:
      'a still does not show the scene that the others of its light show, though both are full of things: it is left out',
    say: (light: string) =>
      `shows another view than the other stills of ${light}, so it is left out: it is another camera's, or the camera was turned far`,
  },
  'views-tie': {
    code: 'another-view',
    topic: 'stills',
    say: (light: string) =>
      `the stills of ${light} show two views, as many one as the other, so none of them counts`,
    mend: 'take the stills of the other camera out',
  },
  'enlarged-scene': {
    topic: 'stills',
    means:
      'the scene behind the walker is larger or smaller in a still than in the others of its light: it was zoomed, or enlarged as it was exported, and is left out',
    say: (by: string, isLarger: boolean, light: string) =>
      `its scene is ${by} % ${isLarger ? 'larger' : 'smaller'} than in the other stills of ${light}, so it is left out: it was zoomed, or enlarged as it was exported`,
    mend: 'export it at the full size of the stream',
  },
  'cropped-still': {
    topic: 'stills',
    means: 'a still shows a part of the scene only, enlarged to the full size: it is left out',
    say: (by: string, light: string, off: string) =>
      `its scene is ${by} % larger than in the other stills of ${light} and its middle lies ${off} px off, so it is left out: it was cut out and enlarged`,
    mend: 'export the whole picture',
  },
  'scales-tie': {
    code: 'enlarged-scene',
    topic: 'stills',
    say: (by: string, light: string) =>
      `the stills of ${light} show the scene at two sizes, ${by} % apart, as many one as the other, so none of them counts`,
    mend: 'export all of them alike',
  },
  'camera-turned': {
    topic: 'stills',
    means:
      'what does not move lies elsewhere in some stills: the camera was knocked or turned between them. Densities hold; what it looks at has changed',
    say: (stills: string, light: string, by: string) =>
      `${light}: in ${stills} the camera stands ${by} of how it stands in the other stills`,
  },
  'picture-shifted': {
    code: 'camera-turned',
    topic: 'stills',
    say: (stills: string, light: string, by: string) =>
      `${light}: in ${stills} what does not move lies ${by} of where it lies in the other stills: the camera was turned`,
  },
  'turned-between-lights': {
    code: 'camera-turned',
    topic: 'stills',
    say: (light: string, against: string, by: string) =>
      `${light}: the camera stands ${by} of how it stood by ${against}`,
  },
  'shifted-between-lights': {
    code: 'camera-turned',
    topic: 'stills',
    say: (light: string, against: string, by: string) =>
      `${light}: what does not move lies ${by} of where it lay by ${against}: the camera was turned, or the picture is cut otherwise`,
  },
  'scene-zoomed': {
    code: 'zoomed-between-lights',
    topic: 'marks',
    say: (light: string, against: string, by: string, isLarger: boolean) =>
      `${light}: the scene is ${by} % ${isLarger ? 'larger' : 'smaller'} than by ${against}: it was zoomed, or these stills are of another stream`,
  },
  unsteady: {
    topic: 'stills',
    means:
      'the stills of a light lie in many places: wind, a weak mount or stabilisation. Turned by so little, densities hold; a moving camera blurs',
    say: (light: string, within: string, count: number) =>
      `${light}: the camera is not steady, over ${count} stills it points within ${within} of where it mostly does`,
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
      'too little of the scene could be found again from still to still to say whether the camera stood still: dark, fog, a bare wall, or one still only',
    say: (light: string, count: number, isLooked: boolean) =>
      `${light}: whether the scene stood still is not told, ${count === 1 ? 'there is one still only' : isLooked ? 'too little of it is found again from still to still' : 'nobody looked, or too little of it is found again from still to still'}`,
  },
})
