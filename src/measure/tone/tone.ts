import type { Quad } from '../../math/point.js'
import type { Raster } from '../../still/raster.js'
import { boxSums } from './boxSums.js'
import { rasterAround } from '../rasterAround.js'
import type { RectangleReference } from '../reference/reference.js'
import { roseK } from './roseK.js'
import { sideLines } from '../edge/sideLine.js'
import type { Problem, RoseK, Tone, ToneElement } from '../stillMeasurement.js'
import { boardAreas, characterAreas, MOST_RING_PX, type ReferenceCut, type ToneAreas } from './toneAreas.js'
import { classLevels, type ToneLevels } from './toneLevels.js'
import { toneProblems } from './toneProblems.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** What tone is measured against. */
export interface ToneOptions {
  readonly elements: readonly ToneElement[]
  /** Density on the reference, px/m. */
  readonly densityPxPerM: number
  /** Blur of the edges, px, where it was measured; 0.5 to 1.6 px is taken where not (this project's convention). */
  readonly blurSigmaPx: number | null
  /** Least k of an element; default 5 (Rose 1948). */
  readonly leastRoseK?: number
}

/** Tone, or null and the problem that says why. */
export interface ToneResult {
  readonly tone: Tone | null
  readonly problems: readonly Problem[]
}

const BLUR_TAKEN_PX = { value: 1, least: 0.5, most: 1.6 }
/** Even without any blur a border runs through its pixels. */
const LEAST_BLUR_PX = 0.5

/**
 * Levels, contrast, noise and Rose's k per grade of a flat reference: a plate's ground against its strokes, or a plain board against its surround.
 * Levels are linear light by the sRGB curve; noise, contrast to noise and k are in code values, where camera noise is even. `corners` are image
 * coordinates, px, clockwise. Null where the reference has too few pixels.
 */
export function measureTone(
  raster: Raster,
  corners: Quad,
  reference: RectangleReference,
  options: ToneOptions,
): ToneResult {
  const lines = sideLines(corners)
  const shortSidePx = Math.min(...lines.map(({ depthPx }) => depthPx))
  const clearPx = 2 * Math.max(LEAST_BLUR_PX, options.blurSigmaPx ?? BLUR_TAKEN_PX.value)
  const { left, top, width, height, data } = rasterAround(raster, corners, clearPx + MOST_RING_PX + 2)
  const codes = boxSums(data, width, height)
  const cut: ReferenceCut = { left, top, width, height, data, codes, lines, shortSidePx, clearPx }
  const areas = reference.marking === 'plain' ? boardAreas(cut) : characterAreas(cut)
  const levels = areas === null ? null : classLevels(cut, areas)
  if (areas === null || levels === null) {
    return { tone: null, problems: [problem(measureSays['tone-too-small']('reference'))] }
  }
  return toneOf(cut, areas, levels, options)
}

/** Tone of a cut whose areas and levels are known. */
export function toneOf(
  cut: ReferenceCut,
  areas: ToneAreas,
  levels: ToneLevels,
  options: ToneOptions,
): ToneResult {
  // A split of noise parts it too: that much is no contrast.
  const apart = levels.bright.code - levels.dim.code
  const contrastCode = Math.sqrt(Math.max(0, apart ** 2 - areas.splitBiasCode ** 2))
  const kept = apart > 0 ? contrastCode / apart : 0
  const middle = (levels.bright.linear + levels.dim.linear) / 2
  const halfSpan = ((levels.bright.linear - levels.dim.linear) / 2) * kept
  const contrastU = Math.hypot(
    areas.noise * Math.sqrt(1 / levels.bright.count + 1 / levels.dim.count),
    areas.parted ? 0 : apart - contrastCode,
    areas.surroundU,
  )
  const tone: Tone = {
    bright: middle + halfSpan,
    dim: middle - halfSpan,
    michelson: middle > 0 ? halfSpan / middle : 0,
    noise: areas.noise,
    contrastToNoise: contrastCode / areas.noise,
    roseK: roseKs(areas, { contrastCode, contrastU, areLevelsClear: levels.areClear }, options),
    clippedBright: levels.bright.atWhite,
    clippedDim: levels.dim.atBlack,
  }
  return { tone, problems: toneProblems(tone, cut, areas, options) }
}

function roseKs(
  { ground: noise, noiseKind }: ToneAreas,
  levels: { readonly contrastCode: number; readonly contrastU: number; readonly areLevelsClear: boolean },
  { elements, densityPxPerM, blurSigmaPx }: ToneOptions,
): Record<string, RoseK | null> {
  const blurPx =
    blurSigmaPx === null ? BLUR_TAKEN_PX : { value: blurSigmaPx, least: blurSigmaPx, most: blurSigmaPx }
  const ground = { ...levels, blurPx, noise, isNoiseBound: noiseKind === 'bound' }
  return Object.fromEntries(
    elements.map(({ gradeId, elementM }) => [gradeId, roseK(ground, elementM * densityPxPerM)]),
  )
}
