import * as z from 'zod'
import { addedWords, group, nullable, number, words } from './resultsParts.js'

const strip = z.string().optional().describe('paper of the sheet of strips under it')

const walkReference = z.union([
  group({
    preset: words,
    width: number,
    height: number,
    widthTolerance: number,
    heightTolerance: number,
    marking: z.enum(['characters', 'plain']),
    text: z.string().optional().describe('what is written on it'),
    strip,
    carriedAt: nullable,
  }),
  group({
    chart: z.string(),
    printedWidth: nullable,
    width: number,
    height: number,
    widthTolerance: number,
    heightTolerance: number,
    strip,
    letters: z.string().optional().describe('the file of its letter cards'),
    carriedAt: nullable,
  }).describe("the printed chart: its paper, the black frame's outer width as measured, and its size"),
  group({ preset: words, length: number, tolerance: number, carriedAt: nullable }),
])

/** The walk as it was measured: the keys of walk.yaml, defaults filled in, lengths in metres, null where it says nothing. */
export const measuredWalk = group({
  site: z.string(),
  date: words.describe('null where neither walk.yaml nor the stills tell it'),
  dateFrom: z
    .enum(['walk', 'stills'])
    .nullable()
    .default('walk')
    .describe('what the date was taken from; null where there is none'),
  people: group({ client: words, walkedBy: words, measuredBy: words }),
  issuer: group({ name: words, logo: words }),
  conditions: z.array(group({ light: z.string(), note: words, illuminance: words })),
  notes: words,
  simulated: z.boolean(),
  camera: group({
    name: z.string(),
    id: words,
    serial: words,
    settings: words,
    image: group({ width: number, height: number }).nullable(),
    fieldOfView: group({ horizontal: nullable, vertical: nullable }).nullable(),
    focalLength: nullable,
    sensor: words,
    pixelPitch: nullable,
    mountHeight: nullable,
    tilt: nullable,
  }),
  units: z.enum(['metric', 'imperial']),
  judge: z.enum(['detail', 'pixels']),
  references: z.record(z.string(), walkReference),
  distance: group({
    from: z.enum(['camera', 'ground']),
    tolerance: number,
    begins: number
      .default(0)
      .describe(
        'how far in front of the lens the tape measure starts; it is in all distances of marks and stills',
      ),
  }),
  marks: z.array(number),
  lights: z.array(z.string()),
  promises: z.array(
    group({
      grade: words.describe('null where text is to be read and no grade explains it'),
      at: number,
      light: z.string(),
      reference: words,
      task: addedWords,
      what: addedWords,
      kind: z
        .enum(['least', 'most', 'read'])
        .default('least')
        .describe('at least the grade, or less than it, or text read'),
      read: number.optional().describe('the share of characters that is read, where that is promised'),
    }),
  ),
  observations: z.array(
    group({
      mark: number,
      light: z.string(),
      triggered: z.boolean().nullable(),
      by: words,
      plateRead: z.enum(['yes', 'no']).nullable(),
      faceKnown: z.enum(['yes', 'no']).nullable(),
      note: words,
    }),
  ),
})
