import type { StillEntry, WalkResults } from '../../src/walk/schemas/resultsSchema.js'

/** What an invented walk is to hold; everything has a default that makes an ordinary walk. */
export interface InventedWalk {
  readonly site?: string
  readonly camera?: string
  readonly client?: string
  readonly walkedBy?: string
  readonly date?: string
  readonly lights?: readonly string[]
  /** References by name: their width and height in metres. */
  readonly references?: Readonly<Record<string, readonly [number, number]>>
  /** Which series there are; every light with every reference unless given. */
  readonly series?: readonly (readonly [light: string, reference: string])[]
  readonly marksM?: readonly number[]
  readonly stillsPerMark?: number
  readonly promises?: boolean
  /** The five promises this many times over; once unless given. */
  readonly promisesTimes?: number
  readonly judge?: 'detail' | 'pixels'
  readonly failAll?: boolean
  readonly imperial?: boolean
  readonly longWords?: boolean
  /** Taped along the ground, every reference carried at 1.1 m. */
  readonly fromGround?: boolean
  /** True unless given. */
  readonly simulated?: boolean
  /** The buyer's words of every promise. */
  readonly task?: string
  /** No promise is shown, either way. */
  readonly notShown?: boolean
}

const PX_PER_RADIAN = 2200
const IMAGE = { width: 3840, height: 2160 }
const GRADES = [
  ['monitor', 'Monitor', 12.5],
  ['detect', 'Detect', 25],
  ['observe', 'Observe', 62.5],
  ['recognise', 'Recognise', 125],
  ['identify', 'Identify', 250],
  ['inspect', 'Inspect', 1000],
] as const
type Mark = WalkResults['marks'][number]

/** Results of a walk that never was: invented numbers with the right shape, for looking at sheets. Valid by `resultsSchema`. */
export function inventedResults(walk: InventedWalk = {}): WalkResults {
  const lights = walk.lights ?? ['day', 'infrared']
  const references = walk.references ?? { board: [0.6, 0.4], plate: [0.52, 0.11] }
  const marksM = walk.marksM ?? [4, 6, 9, 12, 16, 20]
  const series =
    walk.series ??
    (walk.lights === undefined && walk.references === undefined
      ? ([
          ['day', 'board'],
          ['infrared', 'board'],
          ['infrared', 'plate'],
        ] as const)
      : lights.flatMap((light) => Object.keys(references).map((reference) => [light, reference] as const)))
  const stills: StillEntry[] = []
  const marks: Mark[] = []
  for (const [seriesIndex, [light, reference]] of series.entries()) {
    for (const [markIndex, distanceM] of marksM.entries()) {
      const suspect = seriesIndex === 0 && markIndex === 3 && marksM.length > 4
      const trueM = suspect ? distanceM * 1.15 : distanceM
      const size = references[reference] ?? [0.6, 0.4]
      for (let n = 0; n < (walk.stillsPerMark ?? 1); n++) {
        stills.push(still(light, reference, distanceM, trueM, size, n, walk))
      }
      marks.push(markOf(light, reference, distanceM, stills.at(-1)!, suspect, walk))
    }
  }
  const kept = walk.failAll === true ? [] : stills
  const bare = walk.promises === false
  return {
    format: 'proofwalk-results/1',
    method: '1',
    inputs: { walk: hash('walk'), picks: hash('picks'), grading: null, walkPlain: hash('plain walk') },
    walk: inventedWalk(walk, lights, references, marksM),
    grading: {
      id: 'iec-62676-4-2014',
      name: 'IEC 62676-4:2014',
      source: 'IEC 62676-4:2014, table of pixel densities (withdrawn 2025-10-09)',
      grades: GRADES.map(([id, name, limit]) => ({ id, name, limit })),
    },
    stills: kept,
    marks: walk.failAll === true ? [] : marks,
    ranges: walk.failAll === true ? [] : ranges(series),
    triggers:
      walk.promises === false ? [] : [{ light: 'infrared', farthestTriggered: 16, nearestNotTriggered: 18 }],
    lens: walk.failAll === true ? [] : series.map(([light, reference]) => lens(light, reference)),
    promises: bare ? [] : Array.from({ length: walk.promisesTimes ?? 1 }, () => promises(walk, marks)).flat(),
    scene: null,
    readings: [],
    projection: null,
    findings: bare
      ? []
      : [
          {
            code: 'field-of-view-contradicts',
            message:
              'the data sheet’s 100 by 52 degrees and 3840 x 2160 px fit no rectilinear lens: read as equidistant',
            light: null,
            reference: null,
            value: null,
            low: null,
            high: null,
          },
        ],
    unassigned: [
      {
        file: 'stills/day/16.jpg',
        message: 'a bare number says no distance; rename to 16m.jpg or 16ft.jpg',
      },
    ],
    failed: [
      ...(walk.failAll === true
        ? stills.map(({ file }) => ({
            file,
            code: 'not-picked',
            message: 'no corners were picked; proofwalk pick',
          }))
        : []),
      {
        file: 'stills/infrared/9m-b.heic',
        code: 'still-heic',
        message: 'HEIC is not read; export the still as JPEG or PNG at full size',
      },
    ],
  }
}

function inventedWalk(
  walk: InventedWalk,
  lights: readonly string[],
  references: Readonly<Record<string, readonly [number, number]>>,
  marksM: readonly number[],
): WalkResults['walk'] {
  const bare = walk.promises === false
  return {
    site: walk.site ?? 'North slipway',
    date: walk.date ?? '2026-03-14',
    dateFrom: 'walk',
    simulated: walk.simulated ?? true,
    people: {
      client: walk.client ?? 'Harbour office (invented)',
      walkedBy: walk.walkedBy ?? 'the fitter',
      measuredBy: bare ? null : 'the fitter',
    },
    issuer: { name: bare ? null : 'Slipway Security (invented)', logo: null },
    conditions: bare
      ? []
      : [
          { light: 'day', note: 'overcast, dry', illuminance: null },
          { light: 'infrared', note: 'moonless, dry', illuminance: '0.1 lx' },
        ],
    notes: bare ? null : 'wide unit on the net store’s gable',
    camera: {
      name: walk.camera ?? 'Slipway camera',
      id: bare ? null : 'C-07',
      serial: null,
      settings: bare ? null : 'shutter 1/50 s, noise reduction low',
      image: bare ? null : IMAGE,
      fieldOfView: { horizontal: 100, vertical: 52 },
      focalLength: null,
      sensor: null,
      pixelPitch: null,
      mountHeight: 2.6,
      tilt: 12,
    },
    units: walk.imperial === true ? 'imperial' : 'metric',
    judge: walk.judge ?? 'detail',
    references: Object.fromEntries(
      Object.entries(references).map(([name, [width, height]]) => [
        name,
        {
          preset: null,
          width,
          height,
          widthTolerance: 0.001,
          heightTolerance: 0.001,
          marking: 'plain' as const,
          carriedAt: walk.fromGround === true ? 1.1 : null,
        },
      ]),
    ),
    distance: { from: walk.fromGround === true ? 'ground' : 'camera', tolerance: 0.05, begins: 0 },
    marks: [...marksM],
    lights: [...lights],
    promises: [],
    observations: bare
      ? []
      : [
          {
            mark: 16,
            light: 'infrared',
            triggered: true,
            by: 'recording',
            plateRead: 'no',
            faceKnown: null,
            note: null,
          },
          {
            mark: 18,
            light: 'infrared',
            triggered: false,
            by: null,
            plateRead: null,
            faceKnown: 'no',
            note: 'came from the left, along the quay wall',
          },
        ],
  }
}

function still(
  light: string,
  reference: string,
  distanceM: number,
  trueM: number,
  [widthM, heightM]: readonly [number, number],
  n: number,
  walk: InventedWalk,
): StillEntry {
  const density = PX_PER_RADIAN / trueM
  const factor = detailFactor(light, reference, distanceM)
  const washed = reference === 'plate' && light === 'infrared'
  const [w, h] = [widthM * density, heightM * density]
  const [cx, cy] = [1900 + 40 * Math.sin(distanceM), 1000 + 900 / distanceM]
  const tilt = 0.04 * Math.sin(distanceM * 3 + n)
  const long =
    walk.longWords === true ? '-an-export-named-by-a-recorder-that-knows-no-restraint_0000000001' : ''
  return {
    file: `stills/${light}/${distanceM}m-${reference}${n > 0 ? `-${n + 1}` : ''}${long}.jpg`,
    sha256: hash(`${light} ${reference} ${distanceM} ${n}`),
    ...IMAGE,
    light,
    distance: distanceM,
    reference,
    method: 'picks',
    corners: (
      [
        [-w / 2, -h / 2],
        [w / 2, -h / 2],
        [w / 2, h / 2],
        [-w / 2, h / 2],
      ] as const
    ).map(([x, y]): [number, number] => [
      cx + x * Math.cos(tilt) - y * Math.sin(tilt),
      cy + x * Math.sin(tilt) + y * Math.cos(tilt),
    ]),
    density: {
      horizontal: density,
      horizontalU: density * 0.02,
      vertical: density * 0.985,
      verticalU: density * 0.03,
      onTarget: density * 0.985,
      low: density * 0.955,
      high: density * 1.015,
      facing: null,
    },
    pose: null,
    sharpness: null,
    tone: null,
    effectiveDensity: washed
      ? null
      : {
          value: density * factor * 0.985,
          low: density * factor * 0.93,
          high: density * Math.min(1, factor * 1.05),
        },
    usable: washed ? false : true,
    resolved: null,
    detailFrom: null,
    bound: null,
    sameAs: null,
    blocks: [],
    grade: washed ? 'none' : gradeFor(density * factor * 0.93),
    gradeByPixels: gradeFor(density * 0.955),
    problems: washed
      ? [{ code: 'washed-out', message: 'washed out: 83 % of the plate is at white, contrast 4 %' }]
      : [],
  }
}

function detailFactor(light: string, reference: string, distanceM: number): number {
  if (light === 'infrared') return 0.72
  return distanceM === 6 && reference === 'board' ? 0.5 : 0.97
}

function markOf(
  light: string,
  reference: string,
  distanceM: number,
  one: StillEntry,
  suspect: boolean,
  walk: InventedWalk,
): Mark {
  const plain = one.usable === false ? 'washed out: 83 % of the plate is at white, contrast 4 %' : ''
  const long =
    walk.longWords === true
      ? 'the reference was held turned by about 28 degrees and partly behind the mooring post, so that its left side is uncertain; walk it again with the board square to the camera and nothing before it'
      : plain
  return {
    light,
    reference,
    distance: distanceM,
    lineOfSight: walk.fromGround === true ? Math.hypot(distanceM, 1.5) : distanceM,
    stills: walk.stillsPerMark ?? 1,
    density: { value: one.density.onTarget, low: one.density.low, high: one.density.high },
    effectiveDensity: one.effectiveDensity,
    resolved: one.resolved,
    detailFrom: null,
    grade: suspect ? null : one.grade,
    gradeByPixels: suspect ? null : one.gradeByPixels,
    usable: one.usable,
    why: suspect
      ? `left out: its tape does not fit the others, fits ${(distanceM * 1.15).toFixed(1)} m`
      : long,
    leftOut: suspect,
  }
}

function ranges(series: readonly (readonly [string, string])[]): WalkResults['ranges'] {
  return series.flatMap(([light, reference]) =>
    GRADES.flatMap(([grade, , limit]): WalkResults['ranges'] => {
      const distance = PX_PER_RADIAN / limit
      const base = { light, reference, grade, from: null }
      const far = distance > 20
      const washed = reference === 'plate' && light === 'infrared'
      return [
        {
          ...base,
          basis: 'pixels',
          distance,
          low: distance * 0.97,
          high: distance * 1.03,
          kind: far ? 'extrapolated' : 'fitted',
        },
        washed
          ? { ...base, basis: 'detail', distance: null, low: null, high: null, kind: 'none' }
          : far
            ? { ...base, basis: 'detail', distance: null, low: 20, high: null, kind: 'extrapolated' }
            : {
                ...base,
                basis: 'detail',
                distance: null,
                low: distance * 0.8,
                high: distance,
                kind: 'bracketed',
              },
      ]
    }),
  )
}

function lens(light: string, reference: string): WalkResults['lens'][number] {
  return {
    light,
    reference,
    pixelsPerRadian: { value: PX_PER_RADIAN * 0.985, low: PX_PER_RADIAN * 0.97, high: PX_PER_RADIAN * 1.001 },
    offsetM: 0.01,
    suspect: light === 'day' && reference === 'board' ? { distance: 12, fits: 13.8 } : null,
    promised: { rectilinear: 1611, asRead: 2188 },
  }
}

type Promised = WalkResults['promises'][number]

function promises(walk: InventedWalk, marks: readonly Mark[]): Promised[] {
  const said = { mend: null, task: null, what: null, kind: 'least' } as const
  return judgedPromises(walk).map((one) => {
    const at = marks.find(
      ({ light, reference, distance }) =>
        light === one.light && reference === one.decidedBy && distance === one.distance,
    )
    const other = one.basis === 'detail' ? at?.density : at?.effectiveDensity
    const open = walk.notShown === true ? ({ verdict: 'not shown', byPixels: 'not shown' } as const) : {}
    return { ...one, ...said, ...open, task: walk.task ?? null, onOtherBasis: other ?? null }
  })
}

function judgedPromises(
  walk: InventedWalk,
): Omit<Promised, 'mend' | 'task' | 'what' | 'kind' | 'onOtherBasis'>[] {
  const basis = walk.judge ?? 'detail'
  if (walk.failAll === true) {
    return [
      {
        grade: 'recognise',
        distance: 16,
        light: 'day',
        reference: null,
        basis,
        verdict: 'not shown',
        byPixels: 'not shown',
        value: null,
        low: null,
        high: null,
        limit: 125,
        decidedBy: null,
        why: 'no still of this light could be measured; pick the corners of the stills',
      },
    ]
  }
  return [
    {
      grade: 'recognise',
      distance: 16,
      light: 'day',
      reference: 'board',
      basis,
      verdict: 'met',
      byPixels: 'met',
      value: 131.3,
      low: 125.04,
      high: 137.5,
      limit: 125,
      decidedBy: 'board',
      why: 'the whole interval reaches 125 px/m',
    },
    {
      grade: 'identify',
      distance: 6,
      light: 'day',
      reference: 'board',
      basis,
      verdict: 'not met',
      byPixels: 'met',
      value: 180.6,
      low: 170.5,
      high: 192.5,
      limit: 250,
      decidedBy: 'board',
      why: 'enough pixels, but half of them carry no detail: the export looks scaled up',
    },
    {
      grade: 'recognise',
      distance: 12,
      light: 'infrared',
      reference: 'board',
      basis,
      verdict: 'not shown',
      byPixels: 'met',
      value: 130,
      low: 122.8,
      high: 138.6,
      limit: 125,
      decidedBy: 'board',
      why: 'the limit lies inside the interval',
    },
    {
      grade: 'observe',
      distance: 20,
      light: 'infrared',
      reference: 'plate',
      basis,
      verdict: 'not met',
      byPixels: 'met',
      value: null,
      low: null,
      high: null,
      limit: 62.5,
      decidedBy: 'plate',
      why: 'washed out: 83 % of the plate is at white, contrast 4 %; the board at the same mark is fine',
    },
    {
      grade: 'identify',
      distance: 4,
      light: 'infrared',
      reference: 'board',
      basis,
      verdict: 'met',
      byPixels: 'met',
      value: 390,
      low: 368.3,
      high: 415.8,
      limit: 250,
      decidedBy: 'board',
      why: 'the whole interval reaches 250 px/m',
    },
  ]
}

function gradeFor(density: number): string {
  return GRADES.filter(([, , limit]) => density >= limit).at(-1)?.[0] ?? 'none'
}

function hash(text: string): string {
  let h = 2166136261
  let out = ''
  for (let n = 0; out.length < 64; n++) {
    for (const sign of `${text}${n}`) h = Math.imul(h ^ sign.charCodeAt(0), 16777619)
    out += (h >>> 0).toString(16).padStart(8, '0')
  }
  return out.slice(0, 64)
}
