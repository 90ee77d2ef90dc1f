import { DISK_REASONS } from '../../files/sentences.js'
import { suggestNearest } from '../../files/suggestNearest.js'
import type { Estimate } from '../../math/interval.js'
import { catalogue } from '../../sentences.js'
import { printedEstimate, printedValue } from '../../units/printedEstimate.js'
import type { LightMeant } from '../read/sentences.js'

const STILLS = { topic: 'stills' } as const
const COPY_ITSELF = 'copy the file itself there'
const AT_FULL_SIZE = 'at full size'

/** A day that stills say, and how many say it by their names and by their camera's clock. */
interface SaidDay {
  readonly day: string
  readonly names: number
  readonly clocks: number
}

function dayWords({ day, names, clocks }: SaidDay): string {
  const counted = (count: number, word: string): string[] =>
    count === 0 ? [] : [`${count} ${word}${count === 1 ? '' : 's'}`]
  return `${day} (${[...counted(names, 'name'), ...counted(clocks, 'clock time')].join(', ')})`
}

/** All that is said of finding a walk's stills, of their places and names, of their references and corners. */
export const stillsSays = catalogue({
  'dates-differ': {
    topic: 'walk',
    means:
      "the dates in the stills' names, or those of the camera's clock, contradict each other or the date in walk.yaml: find out which is right",
    say: (light: string, days: readonly SaidDay[], written: string | null) =>
      `the stills in ${light} say ${days.map(dayWords).join(' and ')}, ${written === null ? 'and no date is taken from them' : `walk.yaml says ${written}`}`,
    mend: 'check the clock, and write the right date into walk.yaml',
  },
  'chart-elsewhere': {
    topic: 'chart',
    say: 'a chart is in this still, nearer or farther than the picked reference',
    mend: 'carry it beside the reference, or remove it',
  },
  'no-light': {
    ...STILLS,
    say: 'is not in the folder of a light',
    mend: (light: string) =>
      `move it to stills/${light}/ if that is its light, or list it under stills in walk.yaml`,
  },
  'beside-walk': {
    ...STILLS,
    code: 'no-light',
    say: (_lights: readonly string[]) => 'is beside walk.yaml',
    mend: (lights: readonly string[]) =>
      `move it into ${lights.map((light) => `stills/${light}/`).join(' or ')}, and name it by its distance`,
  },
  'too-deep': {
    ...STILLS,
    say: 'is in too deep a folder',
    mend: (folder: string) => `move it up into stills/${folder}/`,
  },
  'folder-too-deep': {
    ...STILLS,
    code: 'too-deep',
    say: 'is a folder too deep to be entered',
    mend: 'move it up',
  },
  'no-length': { ...STILLS, say: 'has no distance above 0', mend: 'rename it' },
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
      "walk.yaml disagrees with the file's name or folder, and walk.yaml is used. Rename the file, or correct its entry",
    say: (byName: Place, byWalk: Place) =>
      `its name says ${byName.distance} in ${byName.light}, walk.yaml says ${byWalk.distance} in ${byWalk.light}. walk.yaml is used`,
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
    mend: (code: string) => DISK_REASONS[code]?.mend ?? 'copy the file again',
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
    say: 'is a link that leads nowhere',
    mend: COPY_ITSELF,
  },
  'name-no-text': {
    ...STILLS,
    code: 'unreadable',
    say: 'has a name that is not UTF-8',
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
      `export a still ${AT_FULL_SIZE} from the recorder (not a screenshot), or take one out of the clip: ffmpeg -i "${name}" -ss 12 -frames:v 1 "${stem}.png" takes second 12`,
  },
  'is-heic': { ...STILLS, say: 'is HEIC, which is not read', mend: `export it as JPEG ${AT_FULL_SIZE}` },
  'is-raw': {
    ...STILLS,
    say: 'is raw sensor data, which is not read',
    mend: `export it as JPEG or TIFF ${AT_FULL_SIZE}`,
  },
  'no-picture': {
    ...STILLS,
    say: (ending: string) =>
      `${ending === '' ? 'has no ending' : `ends in .${ending}`}, which is not a picture`,
    mend: 'export a still as JPEG, PNG, WebP, TIFF or AVIF',
  },
  'no-distance': {
    ...STILLS,
    say: 'does not give a distance',
    mend: (ending: string, number: string | undefined) =>
      number === undefined
        ? `begin its name with the distance, such as 16m${ending} or 52ft${ending}, or list it under stills in walk.yaml`
        : `rename it to ${number}m${ending} or ${number}ft${ending}`,
  },
  'distance-unclear': {
    ...STILLS,
    say: (written: string, rest: string) => `"${written}${rest}" could be read in two ways`,
    mend: (written: string, _rest: string, clear: string) => `rename it to ${clear} if ${written} is meant`,
  },

  'reference-untold': {
    ...STILLS,
    say: (names: readonly string[]) => `nothing says which of ${names.join(', ')} it shows`,
    mend: 'pick it, or list it under stills in walk.yaml',
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
      'picks.json and walk.yaml name different references for the still, and picks.json is used. Correct the one that is wrong',
    say: (picked: string, named: string) =>
      `picks.json says ${picked}, walk.yaml says ${named}. picks.json is used`,
  },
  'no-pick': {
    topic: 'picks',
    means: 'nobody has given its corners yet. Click them with proofwalk pick, or complete the printed entry',
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
      'the walk measures another lens than the data sheet: another model or zoom, a scaled still, or turned references. Check the data sheet, camera.image and the export',
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
        p === null ? "Proofwalk does not use the data sheet's lens" : 'Proofwalk uses the measured lens'
      return `the walk measures ${perRadian.value} (${perRadian.low} to ${perRadian.high}) px per radian in the middle of the picture${bend}. The data sheet's field of view gives ${printedValue(read.pixelsPerRadian, 0)}${readBend} (${percent < 0 ? '' : '+'}${printedValue(percent, 0)} %). They disagree; ${used}`
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
