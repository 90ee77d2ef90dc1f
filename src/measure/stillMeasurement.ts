import type { LensLoads } from '../lens/knownLens.js'
import type { Estimate } from '../math/interval.js'
import type { Point } from '../math/point.js'

/** Something about a still the reader should know: a stable code (`proofwalk help CODE` says what it means) and a sentence. */
export interface Problem {
  readonly code: string
  readonly message: string
}

/** Density on the reference at its centre, px/m. U is expanded, 95 %. */
export interface Density {
  /** Along the reference's own axes; null for a length. */
  readonly horizontal: number | null
  readonly horizontalU: number | null
  readonly vertical: number | null
  readonly verticalU: number | null
  /** The smaller of the two: what counts. */
  readonly onTarget: number
  /** 95 % interval of `onTarget`. */
  readonly low: number
  readonly high: number
  /** What a target square to the ray would get there; without a lens an upper bound; null for a length. */
  readonly facing: number | null
}

/** Turn of the reference against the ray through its centre, degrees; yaw about the vertical, pitch about the horizontal, roll about the ray. */
export interface Pose {
  readonly yaw: number
  readonly pitch: number
  readonly roll: number
}

/** One direction's sharpness: frequencies in cycles/px, overshoot as a share of the step. */
export interface DirectionSharpness {
  readonly mtf50: number
  readonly mtf10: number
  readonly overshoot: number
}

/** Sharpness across upright edges (`horizontal` detail) and level edges (`vertical` detail). */
export interface Sharpness {
  readonly method: 'edge' | 'fit'
  readonly horizontal: DirectionSharpness
  readonly vertical: DirectionSharpness
  /** min(1, f10 / fullDetailAt), the lower direction deciding, with its expanded uncertainty (95 %). */
  readonly factor: number
  readonly factorU: number
  /**
   * Expanded uncertainty (95 %) of f10 in the deciding direction that is of this still alone, cycles/px: without the tone curve and the blur's shape,
   * which another still of the same camera shares. Left out where it is not told.
   */
  readonly f10OwnU?: number | undefined
  readonly shared?: SharedDetail | undefined
  /** Modulation against frequency, where a chart showed it. */
  readonly curve?: SharpnessCurve | undefined
}

/** What other stills of the same camera and light share of f10's uncertainty, in the deciding direction. */
export interface SharedDetail {
  /** Relative change of f10 per unit of ln exponent by which the camera's tone curve departs from the one it was read by; 0 where its own was known. */
  readonly toneLoad: number
  /** Relative standard uncertainty that the blur's shape leaves. */
  readonly shapeRel: number
}

/** Modulation (1 at zero) at 0, `step`, 2 `step`, ... cycles/px, per direction. */
export interface SharpnessCurve {
  readonly step: number
  readonly horizontal: readonly number[]
  readonly vertical: readonly number[]
}

/** Rose's k of an element of a grade's size, with its expanded uncertainty (95 %); where another k than the grading's is asked of it, the least. */
export interface RoseK {
  readonly k: number
  readonly U: number
  readonly least?: number | undefined
}

/** A figure with its expanded uncertainty (95 %). */
export interface StripFigure {
  readonly value: number
  readonly U: number
}

/** What strips tell without one of their pieces: see `StripDetail`. */
interface StripPiece {
  readonly a: number
  readonly k: Readonly<Record<string, number>>
}

/** What the two strips of bars beside a reference told. */
export interface StripDetail {
  /** Cycles per px at which the responses are told, and the responses to bars of 24 % contrast and to black ones. */
  readonly frequencies: readonly number[]
  readonly response24: readonly StripFigure[]
  readonly response88: readonly StripFigure[]
  /** Low-contrast detail: density times the area under `response24` up to Nyquist, cycles per metre, with its U (95 %). */
  readonly a: number
  readonly aU: number
  /** Per grade id: k of a square of its stroke at 24 % contrast, the black bars' residual being the noise. */
  readonly k: Readonly<Record<string, RoseK>>
  /** `a` and every k without each of the strips' pieces: by them stills of one mark are pooled. */
  readonly pieces: readonly StripPiece[]
  /** The finest stroke shown, 0.2 / a, metres; null where none is. */
  readonly stroke: number | null
  /** What the black bars' regression leaves of a pixel, a share of paper's light. */
  readonly noise: number
  /** Signs of the camera's processing, as codes. */
  readonly signs: readonly string[]
}

/**
 * Under this share of the least k a reader fails: of letters with the finest strokes that a grade asks (5/8 of its element) a matched filter reads half at 2.2 where 5 are asked,
 * and between that and the least nothing is shown (simulated: bench/results/legibility.md). This project's convention.
 */
export const FAILING_SHARE = 0.44

/** Levels in linear light 0..1, noise in 8-bit code values, clipped as shares. */
export interface Tone {
  readonly bright: number
  readonly dim: number
  readonly michelson: number
  readonly noise: number
  readonly contrastToNoise: number
  readonly roseK: Readonly<Record<string, RoseK | null>>
  readonly clippedBright: number
  readonly clippedDim: number
  readonly exponent?: ToneExponent | undefined
}

/** By how much the camera's tone curve is steeper than sRGB's, as a chart's lines told it: logarithm of the exponent on the code values, and its standard uncertainty. */
export interface ToneExponent {
  readonly ln: number
  readonly u: number
}

/** What a known lens does to one axis: signed relative changes when each draw behind the lens is one standard deviation up. */
export interface AxisLens {
  /** Of the density. */
  readonly loadsRel: LensLoads
  /** Px per radian here, along this axis and square to the ray, over those in the middle of the picture; and its changes. */
  readonly gain: number
  readonly gainLoadsRel: LensLoads
}

/**
 * One axis' density with its uncertainty taken apart. All parts are relative standard uncertainties (k = 1).
 * `cornersRel` is of this still alone; the others are common to all stills of the reference in a walk, and
 * signed: the density changes by that share when the common draw is one standard deviation up.
 */
export interface AxisBudget {
  readonly densityPxPerM: number
  readonly cornersRel: number
  readonly sizeRel: number
  readonly bendRel: number
  readonly clickBiasRel: number
  /** Where the points went through a known lens; `bendRel` is then 0. */
  readonly lens?: AxisLens | undefined
}

/** The budgets behind a density: of both axes for a rectangle, of the one for a length. */
export interface DensityBudget {
  readonly horizontal: AxisBudget | null
  readonly vertical: AxisBudget | null
  readonly along: AxisBudget | null
}

/** What was measured on one still, before any grade is given. */
export interface StillMeasurement {
  /** The still as displayed, px. */
  readonly width: number
  readonly height: number
  readonly method: 'chart' | 'picks'
  /** As used: four clockwise corners, or two ends. */
  readonly corners: readonly Point[]
  readonly density: Density
  readonly budget: DensityBudget
  readonly pose: Pose | null
  readonly sharpness: Sharpness | null
  readonly tone: Tone | null
  /** What the strips beside the reference told, null where nothing; left out where it carries none. */
  readonly strip?: StripDetail | null | undefined
  readonly effectiveDensity: Estimate | null
  readonly problems: readonly Problem[]
  /** Signs of the pixels looked at, by which the same picture in another file is known; left out where there are none. */
  readonly blocks?: readonly string[] | undefined
}

/** The element that must stand out for a grade, metres. */
export interface ToneElement {
  readonly gradeId: string
  readonly elementM: number
}

/**
 * The version of the measuring. It must change whenever the same stills, picks and walk would give another figure, code, grade or verdict, in the last printed digit too:
 * results of another version are measured anew, and `verify` holds them to their hashes alone. It stays where only fields or words are added.
 */
export const METHOD_VERSION = '2'
