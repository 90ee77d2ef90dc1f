import { DISK_REASONS } from '../../files/sentences.js'
import { suggestNearest } from '../../files/suggestNearest.js'
import type { Estimate } from '../../math/interval.js'
import { catalogue } from '../../sentences.js'
import { printedEstimate, printedValue } from '../../units/printedEstimate.js'
import type { LightMeant } from '../read/sentences.js'

const STILLS = { topic: 'stills' } as const
const COPY_ITSELF = 'copy the file itself there'
const AT_FULL_SIZE = 'at full size'

/** All that is said of finding a walk's stills, of their places and names, of their references and corners. */
export const stillsSays = catalogue({
  'chart-elsewhere': {
    topic: 'chart',
    say: 'a chart is in this still, nearer or farther than what was picked there',
    mend: 'carry it beside that, or take it away',
  },
  'no-light': {
    ...STILLS,
    say: "lies in no light's folder",
    mend: (light: string) =>
      `move it to stills/${light}/ if that is its light, or name it under stills in walk.yaml`,
  },
  'beside-walk': {
    ...STILLS,
    code: 'no-light',
    say: (_lights: readonly string[]) => 'lies beside walk.yaml',
    mend: (lights: readonly string[]) =>
      `move it into ${lights.map((light) => `stills/${light}/`).join(' or ')}, its name the distance`,
  },
  'too-deep': {
    ...STILLS,
    say: 'lies too deep',
    mend: (folder: string) => `move it up into stills/${folder}/`,
  },
  'folder-too-deep': {
    ...STILLS,
    code: 'too-deep',
    say: 'is a folder too deep to be entered',
    mend: 'move it up',
  },
  'no-length': { ...STILLS, say: 'lies at no distance', mend: 'rename it' },
  'unknown-light': {
    ...STILLS,
    say: (told: ToldBy, light: string, lights: readonly string[]) =>
      `its ${told === 'folder' ? told : 'entry in walk.yaml'} says ${light}, the walk's ${lights.length === 1 ? 'light is' : 'lights are'} ${lights.join(', ')}`,
    mend: (told: ToldBy, light: string, _lights: readonly string[], meant: LightMeant | null) => {
      const change = told === 'folder' ? 'rename the folder' : 'change the entry'
      const add = (one: string): string => `add ${one} to lights in walk.yaml`
      if (meant === null) return `${change}, or ${add(light)}`
      return `did you mean ${meant.near}? ${change}${meant.isNew ? ` and ${add(meant.near)}` : `, or ${add(light)}`}`
    },
  },
  'name-disagrees': {
    ...STILLS,
    means:
      "walk.yaml and the file's own name and folder say different things; walk.yaml is followed: rename the file, or correct its entry",
    say: (byName: Place, byWalk: Place) =>
      `its name says ${byName.distance} in ${byName.light}, walk.yaml says ${byWalk.distance} in ${byWalk.light}; walk.yaml is followed`,
  },

  'folder-unreadable': {
    ...STILLS,
    code: 'unreadable',
    say: 'is a folder that cannot be read',
    mend: 'allow reading it',
  },
  'unreadable-by-system': {
    ...STILLS,
    code: 'unreadable',
    say: (code: string) => `cannot be read: ${DISK_REASONS[code]?.reason ?? code}`,
    mend: (code: string) => DISK_REASONS[code]?.mend ?? 'copy the file anew',
  },
  'named-not-there': {
    ...STILLS,
    code: 'unreadable',
    say: 'is named in walk.yaml and is not there',
    mend: 'put it there or delete its entry',
  },
  'leads-nowhere': {
    ...STILLS,
    code: 'unreadable',
    say: 'leads nowhere',
    mend: COPY_ITSELF,
  },
  'name-no-text': {
    ...STILLS,
    code: 'unreadable',
    say: 'has a name that is no UTF-8',
    mend: 'rename it',
  },
  'folder-leaves-walk': {
    ...STILLS,
    code: 'path-leaves-walk',
    say: "is a link out of the walk's folder",
    mend: 'put a folder there',
  },
  'already-in-walk': {
    ...STILLS,
    say: (file: string) => `is in the walk already: ${file} holds the same bytes`,
  },
  'changed-since-taken': {
    ...STILLS,
    say: 'is another file than was dropped, or gone',
    mend: 'remove it from its folder yourself if it shall go',
  },
  'path-leaves-walk': { ...STILLS, say: "is a link out of the walk's folder", mend: COPY_ITSELF },
  'not-a-file': {
    ...STILLS,
    say: (isFolder: boolean) => (isFolder ? 'is a folder or leads to one' : 'is a pipe, socket or device'),
    mend: (isFolder: boolean) => `put the ${isFolder ? 'stills themselves' : 'still itself'} there`,
  },

  'is-video': {
    ...STILLS,
    say: 'is a video',
    mend: (name: string, stem: string) =>
      `export a still ${AT_FULL_SIZE} from the recorder (no screenshot of it), or take one out with a general converter: ffmpeg -i "${name}" -ss 12 -frames:v 1 "${stem}.png", 12 being the second`,
  },
  'is-heic': { ...STILLS, say: 'is HEIC, which is not read', mend: `export it as JPEG ${AT_FULL_SIZE}` },
  'is-raw': {
    ...STILLS,
    say: 'is raw sensor data, which is not read',
    mend: `export it as JPEG or TIFF ${AT_FULL_SIZE}`,
  },
  'no-picture': {
    ...STILLS,
    say: (ending: string) => `${ending === '' ? 'has no ending' : `ends in .${ending}`}, which is no picture`,
    mend: 'export a still as JPEG, PNG, WebP, TIFF or AVIF',
  },
  'no-distance': {
    ...STILLS,
    say: 'tells no distance',
    mend: (ending: string, number: string | undefined) =>
      number === undefined
        ? `begin its name with the distance, such as 16m${ending} or 52ft${ending}, or name it under stills in walk.yaml`
        : `rename it to ${number}m${ending} or ${number}ft${ending}`,
  },
  'distance-unclear': {
    ...STILLS,
    say: (written: string, rest: string) => `"${written}${rest}" could be read in two ways`,
    mend: (written: string, _rest: string, clear: string) => `rename it to ${clear} if ${written} is meant`,
  },

  'reference-untold': {
    ...STILLS,
    say: (names: readonly string[]) => `which of ${names.join(', ')} it shows is not told`,
    mend: 'pick it, or name it under stills in walk.yaml',
  },
  'reference-unknown': {
    ...STILLS,
    say: (file: string, name: string) => `${file} names "${name}", which is not under the walk's references`,
    mend: (_file: string, name: string, names: readonly string[]) => {
      const near = suggestNearest(name, names)
      return near === null ? `it has ${names.join(', ')}` : `did you mean ${near}?`
    },
  },
  'reference-disagrees': {
    ...STILLS,
    means:
      'picks.json and walk.yaml name different references of the still; picks.json is followed: correct the one that is wrong',
    say: (picked: string, named: string) =>
      `picks.json says ${picked}, walk.yaml says ${named}; picks.json is followed`,
  },
  'no-pick': {
    topic: 'picks',
    means: 'nobody has given its corners yet: click them with proofwalk pick, or complete the entry told',
    say: (entry: string) =>
      `has no corners yet: click them (proofwalk pick), or write under "stills" in picks.json: ${entry}`,
  },
  'pick-stale': {
    topic: 'picks',
    say: 'the still has changed since its corners were picked',
    mend: 'pick them again',
  },
  'pick-without-still': {
    topic: 'picks',
    say: 'picks.json has corners for it, but no such still was found',
    mend: 'put it back or delete its entry',
  },

  'lens-against-sheet': {
    topic: 'lens',
    means:
      'the walk measures another lens than the data sheet: another model or zoom, a scaled still, or references held turned; check the data sheet, camera.image and the export',
    say: (
      measured: Readonly<{ perRadian: Estimate; p: Estimate | null }>,
      read: Readonly<{ pixelsPerRadian: number; p: number }>,
    ) => {
      const { p } = measured
      const perRadian = printedEstimate(measured.perRadian)
      const printed = p === null ? null : printedEstimate(p)
      const bend = printed === null ? '' : ` and p = ${printed.value} (${printed.low} to ${printed.high})`
      const readBend = p === null ? '' : ` and p = ${printedValue(read.p, 2)}`
      const percent = 100 * (measured.perRadian.value / read.pixelsPerRadian - 1)
      const used =
        p === null
          ? "corners are not taken through the data sheet's lens"
          : 'Proofwalk uses the measured lens'
      return `the walk measures ${perRadian.value} (${perRadian.low} to ${perRadian.high}) px per radian in the middle of the picture${bend}, the data sheet's field of view is read as ${printedValue(read.pixelsPerRadian, 0)}${readBend} (${percent < 0 ? '' : '+'}${printedValue(percent, 0)} %): they disagree; ${used}`
    },
  },
})

/** What else to do where a still's chart is not found. */
export const CORNERS_INSTEAD = {
  frame: "give the corners of the frame's outside in picks.json",
  other: 'give the corners of what it shows in picks.json',
} as const

type ToldBy = 'folder' | 'entry'
type Place = Readonly<{ distance: string; light: string }>
