import type { LIGHTS, Moving } from './clip.js'

/** What a recorder does to a clip, in its own order: filters in the camera, the codec, and what the export does. */
export interface Setting {
  readonly name: string
  readonly family: Family
  readonly light: keyof typeof LIGHTS
  /** ffmpeg's filters before the codec. */
  readonly filters?: string
  readonly codec?: 'libx264' | 'libx265'
  /** Mbit/s for a picture of 2560 x 1440; smaller pictures get their share. */
  readonly mbit?: number
  /** Times the still is enlarged as it is exported, by cubic interpolation. */
  readonly enlarged?: number
  readonly moving?: Moving
  readonly woven?: true
  /** Not looked at until thresholds stand. */
  readonly keptAside?: true
}

type Family =
  | 'raw by day'
  | 'raw at dusk'
  | 'raw at night'
  | 'coded by day'
  | 'coded at dusk'
  | 'coded at night'
  | 'denoised'
  | 'sharpened'
  | 'local contrast'
  | 'enlarged'
  | 'woven'
  | 'walking'

const aside = { keptAside: true } as const
const h264 = { codec: 'libx264' } as const
const h265 = { codec: 'libx265' } as const
const IN_TIME = 'hqdn3d=0:0:10:10'
const IN_BOTH = 'hqdn3d=4:3:8:6'
const IN_SPACE = 'bilateral=sigmaS=2:sigmaR=0.12'
const UNSHARP = 'unsharp=5:5:0.8'
const STRONG_UNSHARP = 'unsharp=5:5:1.5'
const LOCAL = 'unsharp=13:13:0.6'

type Given = Omit<Setting, 'family' | 'name'>
const of = (family: Family, settings: readonly Given[]): Setting[] =>
  settings.map((setting) => ({ ...setting, family, name: nameOf(setting) }))

function nameOf({ light, filters, codec, mbit, enlarged, moving, woven, keptAside }: Given): string {
  const coded = codec === undefined ? '' : ` ${codec.slice(3).replace('x', 'h.')} ${mbit}`
  const times = enlarged === undefined ? '' : ` x${enlarged}`
  const walks =
    moving === undefined ? '' : ` ${moving.metresPerS} m/s 1/${Math.round(1 / moving.exposureS)} s`
  return `${light}${woven === true ? ' woven' : ''}${walks}${filters === undefined ? '' : ` ${filters}`}${coded}${times}${keptAside === true ? ' (aside)' : ''}`
}

/** All settings of the bench; a third is kept aside. */
export const SETTINGS: readonly Setting[] = [
  ...of('raw by day', [{ light: 'day' }]),
  ...of('raw at dusk', [{ light: 'dusk' }]),
  ...of('raw at night', [{ light: 'night' }]),
  ...of('coded by day', [
    { light: 'day', ...h264, mbit: 1 },
    { light: 'day', ...h264, mbit: 2, ...aside },
    { light: 'day', ...h264, mbit: 4 },
    { light: 'day', ...h264, mbit: 8 },
    { light: 'day', ...h265, mbit: 1, ...aside },
    { light: 'day', ...h265, mbit: 2 },
  ]),
  ...of('coded at dusk', [
    { light: 'dusk', ...h264, mbit: 2 },
    { light: 'dusk', ...h264, mbit: 4, ...aside },
    { light: 'dusk', ...h265, mbit: 2 },
  ]),
  ...of('coded at night', [
    { light: 'night', ...h264, mbit: 1, ...aside },
    { light: 'night', ...h264, mbit: 2 },
    { light: 'night', ...h264, mbit: 4 },
    { light: 'night', ...h264, mbit: 8, ...aside },
    { light: 'night', ...h265, mbit: 1 },
    { light: 'night', ...h265, mbit: 4 },
  ]),
  ...of('denoised', [
    { light: 'night', filters: IN_TIME, ...h264, mbit: 2 },
    { light: 'night', filters: IN_BOTH, ...h265, mbit: 2, ...aside },
    { light: 'night', filters: IN_SPACE },
    { light: 'night', filters: `${IN_TIME},${IN_SPACE}`, ...h264, mbit: 4 },
    { light: 'dusk', filters: IN_BOTH, ...h264, mbit: 4, ...aside },
    { light: 'day', filters: IN_SPACE, ...h264, mbit: 4 },
  ]),
  ...of('sharpened', [
    { light: 'day', filters: UNSHARP },
    { light: 'day', filters: STRONG_UNSHARP, ...h264, mbit: 4, ...aside },
    { light: 'day', filters: UNSHARP, ...h265, mbit: 2 },
    { light: 'night', filters: `${IN_TIME},${UNSHARP}`, ...h264, mbit: 4 },
  ]),
  ...of('local contrast', [
    { light: 'day', filters: LOCAL },
    { light: 'day', filters: LOCAL, ...h264, mbit: 4 },
    { light: 'night', filters: `${IN_BOTH},${LOCAL}`, ...h264, mbit: 4, ...aside },
    { light: 'dusk', filters: `${IN_TIME},${LOCAL}`, ...h265, mbit: 2 },
  ]),
  ...of('enlarged', [
    { light: 'day', enlarged: 1.5 },
    { light: 'day', ...h264, mbit: 4, enlarged: 1.25, ...aside },
    { light: 'day', ...h264, mbit: 4, enlarged: 2 },
    { light: 'night', ...h264, mbit: 4, enlarged: 1.25 },
  ]),
  ...of('woven', [
    { light: 'day', woven: true, moving: { metresPerS: 0.2, exposureS: 0.01 } },
    { light: 'day', woven: true, moving: { metresPerS: 1.2, exposureS: 0.01 }, ...h264, mbit: 4 },
    { light: 'dusk', woven: true, moving: { metresPerS: 0.6, exposureS: 0.02 }, ...h264, mbit: 4, ...aside },
  ]),
  ...of('walking', [
    { light: 'day', moving: { metresPerS: 1.2, exposureS: 0.04 }, ...h264, mbit: 4 },
    { light: 'day', moving: { metresPerS: 0.5, exposureS: 0.04 } },
    { light: 'dusk', moving: { metresPerS: 1.2, exposureS: 0.01 }, ...h264, mbit: 4, ...aside },
    { light: 'night', moving: { metresPerS: 0.5, exposureS: 0.04 }, ...h264, mbit: 4 },
  ]),
]
