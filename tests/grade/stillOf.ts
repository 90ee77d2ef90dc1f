import type { JudgedStill } from '../../src/grade/judgement.js'
import { countedDetail } from '../../src/measure/surface/countedDetail.js'
import { effectiveDensity } from '../../src/measure/surface/effectiveDensity.js'
import type {
  AxisBudget,
  Density,
  Pose,
  Problem,
  RoseK,
  SharedDetail,
  Sharpness,
  StripDetail,
  Tone,
} from '../../src/measure/stillMeasurement.js'

/** What a test says of a still; the rest is that of a clean, sharp, facing board of 600 x 400 mm. */
export interface StillParts {
  readonly file?: string
  readonly light?: string
  readonly reference?: string
  readonly distanceM?: number
  /** How far right of the picture's middle it is seen, px. */
  readonly rightPx?: number
  readonly lineOfSightM?: number
  readonly horizontal?: number
  readonly vertical?: number
  /** Relative standard uncertainty of the corners, per axis. */
  readonly cornersRel?: number
  readonly verticalCornersRel?: number
  readonly common?: Partial<AxisBudget>
  readonly facing?: number | null
  readonly pose?: Pose | null
  readonly factor?: number | null
  readonly factorU?: number
  readonly f10?: number
  readonly f10OwnU?: number
  readonly shared?: SharedDetail
  readonly roseK?: Readonly<Record<string, RoseK | null>>
  readonly tone?: Partial<Tone> | null
  readonly strip?: Pick<StripDetail, 'a' | 'aU' | 'k'> & Partial<Pick<StripDetail, 'pieces'>>
  readonly problems?: readonly Problem[]
  readonly method?: 'chart' | 'picks'
}

/** A graded still made of densities and uncertainties that a test chooses. */
export function stillOf(parts: StillParts = {}): JudgedStill {
  const distanceM = parts.distanceM ?? 10
  const right = parts.rightPx ?? 0
  const h = parts.horizontal ?? 2000 / distanceM
  const v = parts.vertical ?? h
  const budget = (densityPxPerM: number, cornersRel: number): AxisBudget => ({
    densityPxPerM,
    cornersRel,
    sizeRel: 0,
    bendRel: 0,
    clickBiasRel: 0,
    ...parts.common,
  })
  const horizontal = budget(h, parts.cornersRel ?? 0.005)
  const vertical = budget(v, parts.verticalCornersRel ?? parts.cornersRel ?? 0.005)
  const [hU, vU] = [expanded(horizontal), expanded(vertical)]
  const density: Density = {
    horizontal: h,
    horizontalU: hU,
    vertical: v,
    verticalU: vU,
    onTarget: Math.min(h, v),
    low: Math.min(h - hU, v - vU),
    high: Math.min(h + hU, v + vU),
    facing: parts.facing ?? null,
  }
  const sharpness = sharpnessOf(parts)
  const strip = parts.strip === undefined ? {} : { strip: { ...NO_RESPONSES, ...parts.strip } }
  const detail = countedDetail({ ...strip, sharpness, density })
  return {
    file: parts.file ?? `stills/day/${distanceM}m.png`,
    light: parts.light ?? 'day',
    reference: parts.reference ?? 'board',
    distanceM,
    lineOfSightM: parts.lineOfSightM ?? distanceM,
    grade: null,
    gradeByPixels: null,
    usable: null,
    measurement: {
      width: 3840,
      height: 2160,
      method: parts.method ?? 'picks',
      corners: [
        [1900 + right, 1060],
        [1940 + right, 1060],
        [1940 + right, 1100],
        [1900 + right, 1100],
      ],
      density,
      budget: { horizontal, vertical, along: null },
      pose: parts.pose ?? null,
      sharpness,
      tone: parts.tone === null ? null : toneOf(parts),
      ...strip,
      effectiveDensity: detail === null ? null : effectiveDensity(density, detail),
      problems: parts.problems ?? [],
    },
  }
}

const NO_RESPONSES = {
  frequencies: [],
  response24: [],
  response88: [],
  pieces: [],
  stroke: null,
  noise: 0.02,
  signs: [],
}

function expanded(axis: AxisBudget): number {
  return 2 * axis.densityPxPerM * Math.hypot(axis.cornersRel, axis.sizeRel, axis.bendRel, axis.clickBiasRel)
}

function sharpnessOf({
  factor = 1,
  factorU = 0.02,
  f10 = 0.4,
  f10OwnU,
  shared,
}: StillParts): Sharpness | null {
  if (factor === null) return null
  const direction = { mtf50: f10 / 2, mtf10: f10, overshoot: 0 }
  return { method: 'fit', horizontal: direction, vertical: direction, factor, factorU, f10OwnU, shared }
}

function toneOf(parts: StillParts): Tone {
  return {
    bright: 0.8,
    dim: 0.1,
    michelson: 0.78,
    noise: 2,
    contrastToNoise: 40,
    roseK: parts.roseK ?? {},
    clippedBright: 0,
    clippedDim: 0,
    ...parts.tone,
  }
}
