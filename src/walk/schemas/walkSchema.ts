import * as z from 'zod'
import {
  complaint,
  angle,
  date,
  faultless,
  focalLength,
  innerPath,
  length,
  pixelPitch,
  plainName,
  readPercent,
  sensor,
  text,
  yesOrNo,
} from './fieldSchemas.js'
import type { PlateBorder } from '../../measure/reference/reference.js'
import { parseLength } from '../../units/parseLength.js'
import { fieldSays } from './sentences.js'

const lightName = () => plainName("one of the walk's lights; ir is understood as infrared", 'day')
const referenceName = () => plainName("a name under the walk's references", 'plate')
const markDistance = () => length('distance of the mark', '16 m')

const camera = z.strictObject({
  name: text('what the camera is called on the sheet', 'Slipway camera'),
  id: text('its number in the plans', 'C-07').optional(),
  serial: text('its serial number', '60317').optional(),
  settings: text('exposure, bit rate and what else was set', 'shutter 1/50, 8 Mbit/s').optional(),
  image: z
    .strictObject({
      width: z.int().positive().max(65_535),
      height: z.int().positive().max(65_535),
    })
    .optional()
    .meta({
      description: 'size of the exported still, px; a still of another size is reported',
      examples: [{ width: 3840, height: 2160 }],
    }),
  fieldOfView: z
    .strictObject({
      horizontal: angle('across', 100, 360).optional(),
      vertical: angle('up and down', 52, 360).optional(),
    })
    .superRefine(faultless((view) => (Object.keys(view).length === 0 ? fieldSays.empty() : null)))
    .optional()
    .meta({
      description: 'from the data sheet, degrees; either or both',
      examples: [{ horizontal: 100, vertical: 52 }],
    }),
  focalLength: focalLength.optional(),
  sensor: sensor.optional(),
  pixelPitch: pixelPitch.optional(),
  mountHeight: length('height of the camera over the ground', '2.6 m').optional(),
  tilt: z
    .number()
    .gte(-90)
    .lte(90)
    .optional()
    .meta({ description: 'degrees down', examples: [12] }),
})

const tolerance = () => length('how far its size may be off, either way', '1 mm', { least: '0' }).optional()
const carriedAt = () => length('height of its middle over the ground', '1.1 m').optional()

const strip = () =>
  text('the paper of the sheet of strips fixed under it, as chart --strip prints it', 'A3').optional()

const BORDER = /^\s*(none|rim|inset)\b\s*(.*?)\s*(?:\bas seen in (\S.*?))?\s*$/i

const border = z
  .string()
  .meta({
    description:
      "how a plate's edge is made: none, rim 3 mm (a dark border that ends at the rim), or inset 4 mm (drawn so far inside it); with the still that shows it where nobody measured it",
    examples: ['rim 3 mm', 'none', 'inset 4 mm', 'rim 3 mm as seen in stills/day/4m.jpg'],
  })
  .transform((written, context): PlateBorder => {
    const [, kind, size = '', still] = BORDER.exec(written) ?? []
    const wide = size === '' ? null : parseLength(size)
    const fits = wide?.ok === true && wide.value > 0 && wide.value <= MOST_BORDER_M
    const seen = still === undefined ? {} : { seenIn: still }
    if (kind?.toLowerCase() === 'none' && wide === null) return { kind: 'none', ...seen }
    if (kind?.toLowerCase() === 'rim' && fits) return { kind: 'rim', widthM: wide.value, ...seen }
    if (kind?.toLowerCase() === 'inset' && fits) return { kind: 'inset', insetM: wide.value, ...seen }
    context.addIssue(complaint(fieldSays['no-border'](written)))
    return z.NEVER
  })
/** No plate's border is wider, nor farther in, metres: more is a slip of the unit. */
const MOST_BORDER_M = 0.02

const reference = z
  .union([
    z.strictObject({
      preset: text('an id of list references', 'plate-eu'),
      text: text('what is written on it, for the reading trial', 'AB12 CDE')
        .regex(/^[A-Za-z0-9 -]{1,20}$/, fieldSays['no-plate-text']().message)
        .optional(),
      border: border.optional(),
      tolerance: tolerance(),
      carriedAt: carriedAt(),
    }),
    z.strictObject({
      width: length('width as held', '600 mm'),
      height: length('height as held', '400 mm'),
      tolerance: tolerance(),
      carriedAt: carriedAt(),
      marking: z
        .enum(['characters', 'plain'])
        .optional()
        .meta({
          description: 'characters for a plate, plain (the default) for a board',
          examples: ['plain'],
        }),
      strip: strip(),
      border: border.optional(),
    }),
    z.strictObject({
      length: length('a straight length: a staff, the height of characters', '2 m'),
      tolerance: tolerance(),
      carriedAt: carriedAt(),
    }),
    z.strictObject({
      chart: text('the paper the chart was printed on', 'A2'),
      printedWidth: length(
        "outer width of the chart's black frame, measured on the print",
        '485 mm',
      ).optional(),
      strip: strip(),
      carriedAt: carriedAt(),
    }),
    z.strictObject({
      letters: innerPath('letter cards of the reading trial, carried under the chart', 'cards.json'),
      chart: text('the paper of chart and cards; A2 by default', 'A2').optional(),
      printedWidth: length("outer width of the chart's black frame as taped", '485 mm').optional(),
      carriedAt: carriedAt(),
    }),
  ])
  .meta({
    description: 'a thing of known size',
    examples: [{ preset: 'plate-eu' }, { width: '600 mm', height: '400 mm' }],
  })

const promised = {
  at: length('distance promised', '16 m'),
  light: lightName(),
  reference: referenceName().optional(),
  task: text("the buyer's own words", 'read a plate').optional(),
  what: text('what is looked at there', "the neighbour's window").optional(),
}

/** `walk.yaml` as people write it; its output has lengths in metres. */
export const walkSchema = z.strictObject({
  site: text('where the camera stands', 'North slipway'),
  date: date(
    'of the walk, printed on the sheet; the one that names and clocks of the stills agree on by default',
    '2026-03-14',
  ).optional(),
  people: z
    .strictObject({
      client: text('who ordered the camera', 'Harbour office (invented)').optional(),
      walkedBy: text('who walked', 'the fitter').optional(),
      measuredBy: text('who measured', 'the fitter').optional(),
    })
    .optional()
    .meta({ examples: [{ client: 'Harbour office (invented)', walkedBy: 'the fitter' }] }),
  issuer: z
    .strictObject({
      name: text('who issues the sheet', 'Slipway Security (invented)').optional(),
      logo: innerPath('a PNG or JPEG picture', 'logo.png').optional(),
    })
    .optional()
    .meta({ examples: [{ name: 'Slipway Security (invented)', logo: 'logo.png' }] }),
  conditions: z
    .array(
      z.strictObject({
        light: lightName(),
        note: text('weather, ground, anything that matters', 'moonless, dry').optional(),
        illuminance: text('as metered, with its unit', '0.1 lx')
          .regex(/^\d+([.,]\d+)?\s*(lx|lux|fc)$/i, fieldSays['no-illuminance']().message)
          .optional(),
      }),
    )
    .optional()
    .meta({ examples: [[{ light: 'day', note: 'overcast' }]] }),
  notes: text('anything else for the sheet', "wide unit on the net store's gable").optional(),
  simulated: z
    .boolean()
    .optional()
    .meta({
      description: 'true where the stills are simulated; every page of the sheet then says so',
      examples: [false],
    }),
  camera: camera.meta({ examples: [{ name: 'Slipway camera' }] }),
  units: z
    .enum(['metric', 'imperial'])
    .optional()
    .meta({ description: 'metric by default; imperial: tables and sheet in ft', examples: ['metric'] }),
  grading: text(
    'a built-in id of list gradings, or the path of a grading file',
    'iec-62676-4-2014',
  ).optional(),
  judge: z
    .enum(['detail', 'pixels'])
    .optional()
    .meta({
      description: "detail by default; pixels: by pixel count alone, as the standard's table does",
      examples: ['detail'],
    }),
  sheet: z
    .strictObject({
      paper: z
        .enum(['A4', 'Letter'])
        .optional()
        .meta({ description: 'what its sheet is set for; A4 by default', examples: ['Letter'] }),
      mask: z
        .enum(['none', 'plates', 'people', 'both'])
        .optional()
        .meta({
          description:
            'what its pictures hide: none (the default), plates, people (all but what was carried), or both',
          examples: ['plates'],
        }),
    })
    .optional()
    .meta({
      description: 'how its sheet is written unless the command says otherwise',
      examples: [{ paper: 'Letter', mask: 'plates' }],
    }),
  references: z
    .record(plainName('a name of your own', 'plate'), reference)
    .superRefine(faultless((references) => (Object.keys(references).length === 0 ? fieldSays.empty() : null)))
    .meta({
      description: 'what is carried, each under a name',
      examples: [{ plate: { preset: 'plate-eu' } }],
    }),
  distance: z
    .strictObject({
      from: z
        .enum(['camera', 'ground'])
        .optional()
        .meta({
          description: 'camera by default; ground: along the ground from below the camera',
          examples: ['camera'],
        }),
      tolerance: length('how far a measured distance may be off; 0.05 m by default', '0.05 m').optional(),
      begins: length(
        'how far in front of the lens the tape measure starts, below 0 behind it: added to every measured distance',
        '0.1 m',
        { least: 'below 0' },
      ).optional(),
    })
    .optional()
    .meta({ examples: [{ from: 'camera', tolerance: '0.05 m' }] }),
  marks: z
    .array(markDistance())
    .optional()
    .meta({ description: 'the planned distances; others are valid too', examples: [['4 m', '8 m', '16 m']] }),
  lights: z
    .array(plainName('day, dark, infrared, lamp, or your own word; the name of a folder in stills/', 'day'))
    .min(1)
    .meta({ examples: [['day', 'infrared']] }),
  promises: z
    .array(
      z.union([
        z.strictObject({ grade: text('a grade of the grading', 'recognise'), ...promised }),
        z.strictObject({
          read: readPercent,
          grade: text('a grade of the grading, which explains it', 'recognise').optional(),
          ...promised,
        }),
        z.strictObject({
          atMost: text('the grade it must not reach there, judged by pixels', 'observe'),
          ...promised,
        }),
      ]),
    )
    .optional()
    .meta({
      description: 'what the camera was sold to do',
      examples: [[{ grade: 'recognise', at: '16 m', light: 'day' }]],
    }),
  stills: z
    .array(
      z.strictObject({
        file: innerPath('the exported still', 'stills/export-0001.jpg'),
        mark: markDistance(),
        light: lightName(),
        reference: referenceName().optional(),
        sameAs: innerPath('the still it shows again', 'stills/day/16m.jpg').optional(),
        distinct: yesOrNo('whether it is another picture than one that looks the same').optional(),
      }),
    )
    .optional()
    .meta({
      description: 'for files whose names say nothing',
      examples: [[{ file: 'stills/export-0001.jpg', mark: '16 m', light: 'day' }]],
    }),
  observations: z
    .array(
      z.strictObject({
        mark: markDistance(),
        light: lightName(),
        triggered: yesOrNo('whether the camera noticed').optional(),
        by: text('what showed it', 'recording').optional(),
        plateRead: yesOrNo('whether the plate could be read by eye').optional(),
        faceKnown: yesOrNo('whether the face could be known by eye').optional(),
        note: text('anything else', 'from the left').optional(),
      }),
    )
    .optional()
    .meta({
      description: 'what was seen by eye',
      examples: [[{ mark: '18 m', light: 'infrared', triggered: true }]],
    }),
})

/** A walk whose shape is right, lengths in metres, nothing looked up yet. */
export type WalkFile = z.output<typeof walkSchema>
