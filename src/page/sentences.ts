import { catalogue } from '../sentences.js'
import { MOST_DROPPED_BYTES } from './api.js'

const PAGE = { topic: 'page' } as const
const BAD_REQUEST = { ...PAGE, code: 'bad-request' } as const

/** All that the page and its server say: refusals, conflicts, what another hand did, and how it stands with the server. Figures come printed. */
export const pageSays = catalogue({
  'page-not-built': {
    ...PAGE,
    say: 'the page was not built with this program',
    mend: 'install it again, or run npm run build',
  },
  'port-taken': {
    ...PAGE,
    say: (port: number, isForbidden: boolean) =>
      `port ${port} ${isForbidden ? 'is not allowed' : 'is taken by another program'}`,
    mend: 'leave --port out, or choose another',
  },
  'other-address': { ...PAGE, say: 'This server answers to its own address alone' },
  'other-site': { ...PAGE, say: 'Another site asked for this' },
  'no-origin': { ...PAGE, say: 'A change must say where it comes from' },
  'address-used': {
    ...PAGE,
    say: (command: string) =>
      `This page opens once, in one browser, with the address that proofwalk ${command} printed. To open it elsewhere, end proofwalk with Ctrl-C and start it again`,
  },

  'not-json': { ...BAD_REQUEST, say: 'the body must be application/json' },
  'no-json': { ...BAD_REQUEST, say: 'the body is not JSON' },
  'wrong-body': { ...BAD_REQUEST, say: (field: string, fault: string) => `${field}: ${fault}` },
  'wrong-size': { ...BAD_REQUEST, say: 'size is not a number from 16 to 1024' },
  'wrong-tile': { ...BAD_REQUEST, say: 'level, x and y are whole numbers' },
  'wrong-rectangle': { ...BAD_REQUEST, say: 'names no rectangle of the walk with its four corners' },
  'body-too-large': { ...PAGE, say: (mostMB: number) => `the body has more than ${mostMB} MB` },
  'no-bytes': { ...BAD_REQUEST, say: 'the body must be application/octet-stream, and the address name it' },
  'no-walk-yet': { ...PAGE, say: 'there is no walk here yet', mend: 'begin one on the page' },
  'begin-first': { ...PAGE, say: 'Begin the walk first, then drop the stills' },
  'not-found': { ...PAGE, say: 'there is nothing here' },
  'too-many-pages': { ...PAGE, say: 'too many pages are open on this walk', mend: 'close some' },

  'showing-over': {
    ...PAGE,
    say: 'this one was answered already, here or in another window',
    mend: 'answer the next',
  },
  'answer-length': {
    ...PAGE,
    say: (letters: number) => `there are ${letters} characters`,
    mend: 'type ? for one you cannot tell',
  },
  'no-such-still': { ...PAGE, say: 'the walk has no such still' },
  'still-gone': {
    ...PAGE,
    code: 'no-such-still',
    say: 'the walk has no such still, or it has changed since',
  },
  'path-leaves-walk': { ...PAGE, say: "it leads out of the walk's folder" },
  'no-picture': { ...PAGE, say: 'the still cannot be shown' },
  'no-such-tile': { ...PAGE, say: 'the still ends before it' },
  'no-sheet': { ...PAGE, say: 'there is no sheet yet' },
  'corners-not-convex': { ...PAGE, say: 'the corners cannot be those of a flat rectangle' },
  'snap-no-outline': { ...PAGE, say: 'a length has no outline to be snapped to' },

  'dropped-too-large': {
    ...PAGE,
    say: (bytes: number) =>
      `has ${Math.round(bytes / 1e6)} MB, at most ${MOST_DROPPED_BYTES / 1e6} MB are taken`,
    mend: 'export a single still',
  },
  'folder-dropped': { ...PAGE, say: 'is a folder', mend: 'open it and drop the stills in it' },
  'file-unreadable': {
    ...PAGE,
    say: 'cannot be read: it is gone, or a folder, or may not be opened',
    mend: 'copy it to this machine and drop it again',
  },
  'not-copied': { ...PAGE, say: 'was not copied: the copying ended before it was whole' },
  'not-dropped-here': {
    ...PAGE,
    say: 'was not dropped here since proofwalk was started',
    mend: 'remove it from its folder yourself if it shall go',
  },
  'in-use': {
    ...PAGE,
    say: 'has corners, or a place in walk.yaml, by now',
    mend: 'undo those first',
  },
  'still-changed': {
    ...PAGE,
    say: 'the still has changed since it was shown',
    mend: 'look at it again',
  },
  'pick-stale': {
    ...PAGE,
    say: 'the still has changed since its corners were picked',
    mend: 'pick them again',
  },
  'bad-pick': { ...PAGE, say: (field: string, fault: string) => `${field}: ${fault}` },
  'reference-unknown': { ...PAGE, say: (name: string) => `the walk has no ${name}` },
  'pick-other-kind': { ...PAGE, say: (reference: string) => `these points do not fit ${reference}` },
  'points-do-not-fit': {
    ...PAGE,
    code: 'pick-other-kind',
    say: (reference: string) => `its points do not fit ${reference}`,
    mend: 'clear them first',
  },
  'unknown-light': {
    ...PAGE,
    say: (lights: string) => `the walk has no light ${lights}`,
    mend: 'add it or choose another',
  },
  'no-length': { ...PAGE, say: 'a mark lies above 0' },
  'no-mark': { ...PAGE, say: 'its mark is not known yet' },
  'no-light': { ...PAGE, say: 'its light is not known yet' },
  'no-head': {
    ...PAGE,
    say: 'the still has not been read yet, or cannot be. Its points are kept here',
  },

  'changed-by-another-hand': { ...PAGE, say: (file: string) => `${file} was changed elsewhere` },
  'stills-changed': {
    ...PAGE,
    say: (count: number) => (count === 1 ? 'a still came, went or changed' : 'stills came, went or changed'),
  },
  'changed-in-another-page': {
    ...PAGE,
    say: (file: string) => `${file} was changed in another page; this is how it is now`,
  },
  'changed-elsewhere': {
    ...PAGE,
    say: (what: string) =>
      `${what} were changed elsewhere at the same time. Nothing is lost: your version is shown here, the other is saved`,
  },
  'not-saved': { ...PAGE, say: (what: string, why: string) => `${what} could not be saved: ${why}` },
  'kept-here': {
    ...PAGE,
    say: 'What you did is kept in this page and saved as soon as there is an answer',
  },
  'no-answer': {
    ...PAGE,
    say: 'No answer from proofwalk on this machine. Is it still running in its terminal?',
  },
  'address-of-before': {
    ...PAGE,
    say: 'This address is no longer valid: proofwalk was started again. Open the new address in this browser. This page will then continue',
  },
  ended: { ...PAGE, say: 'proofwalk has ended. Start it again in the terminal to go on' },

  'outline-fitted': {
    ...PAGE,
    say: (sigmaPx: string, doubts: string) =>
      `Dashed: fitted to the edges, ${sigmaPx} px${doubts === '' ? '' : `. Doubtful: ${doubts}`}. Enter accepts it and continues`,
  },
  'no-fit': {
    ...PAGE,
    say: (why: string, isProposed: boolean) =>
      `No fit: ${why}. ${isProposed ? 'Nothing is picked: click the other corners too' : 'Drag the corners, or nudge them with the arrow keys'}`,
  },
  'border-seen-here': {
    ...PAGE,
    say: (file: string, width: string, sides: number) =>
      `in ${file} a dark line ${width} wide runs along ${sides} sides, before lighter ground: a border at the rim, or a line inside it`,
    mend: 'look at the plate itself',
  },
  'promised-here': {
    ...PAGE,
    say: (basis: string, grade: string, limit: string) => `${basis}: ${grade} is promised here, ${limit}`,
  },
  'measured-against': {
    ...PAGE,
    say: (density: string, limit: string) => `${density} against ${limit}`,
  },
})
