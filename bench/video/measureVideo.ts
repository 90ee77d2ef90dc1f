import { builtInGradings } from '../../src/grade/gradings/builtInGradings.js'
import { detailBound } from '../../src/grade/gradings/detailBound.js'
import { standsOut } from '../../src/grade/gradings/standsOut.js'
import type { Verdict } from '../../src/grade/judgement.js'
import { gradeStill } from '../../src/grade/gradings/gradeStill.js'
import { chartPaper } from '../../src/chart/printed/chartPapers.js'
import { composeHomographies, movedHomography, type Homography } from '../../src/math/homography.js'
import type { Quad } from '../../src/math/point.js'
import { seededRandom } from '../../src/math/random.js'
import { chartReference } from '../../src/measure/reference/chartReference.js'
import { HAND_SIGMA_PX, type Pick } from '../../src/measure/reference/pick.js'
import type { Reference } from '../../src/measure/reference/reference.js'
import type { PooledStrips } from '../../src/measure/strip/poolStrips.js'
import { snapCorners, type SnappedCorners } from '../../src/measure/snap/snapCorners.js'
import type { StillMeasurement, StripDetail } from '../../src/measure/stillMeasurement.js'
import {
  gaussianPixelCrossing,
  gaussianPixelResponse,
} from '../../src/simulate/camera/gaussianPixelResponse.js'
import { simulateClicks } from '../../src/simulate/camera/simulateClicks.js'
import type { TargetTruth } from '../../src/simulate/camera/targetTruth.js'
import { openStill } from '../../src/still/openStill.js'
import { runStillTask } from '../../src/walk/measure/runStillTask.js'
import { gradingNeeds } from '../../src/walk/stills/planStills.js'
import type { StillTask } from '../../src/walk/stills/stillTask.js'
import { decodeGrey } from '../../tests/support/chartStill.js'
import { BOARD } from '../../tests/measure/boardReference.js'
import { shareRead } from './characters.js'
import type { CodedStill } from './codedStills.js'
import type { Setting } from './settings.js'
import type { Walker } from './walker.js'

const { grading: GRADING } = builtInGradings[0]!
const exact = { widthToleranceM: 0, heightToleranceM: 0 }
const CHART = { ...chartReference('chart', chartPaper('A2')!, null), ...exact, strip: 'A2' }
/** So far away that no lens bends it: these do not. */
const FAR_M = 1e6

/** One axis of a density against the truth: its error and its expanded uncertainty, both relative. */
interface AxisRow {
  readonly error: number
  readonly U: number
}

/** What strips say of strokes of 16 and 8 mm, their k, A in cycles per metre, how far A may be off, relative (95 %). */
export interface StripsRow {
  readonly verdicts: readonly Verdict[]
  readonly k: readonly number[]
  readonly a: number
  readonly rel: number
}

/** What was measured on a reference in a still. */
export interface ReferenceRow {
  /** Why there is no measurement; null where there is one. */
  readonly refused: string | null
  readonly codes: readonly string[]
  readonly axes: readonly AxisRow[]
  /** f10 over that of optics and pixels; null where no detail is told. */
  readonly f10: number | null
  /** Low end of the effective density over what optics and pixels leave, by strips where they were read; null without, and where it is an upper bound. */
  readonly effectiveLow: number | null
  /** k for strokes of 16 and 8 mm; null where it is not told. */
  readonly k: readonly (number | null)[]
  readonly usable: boolean | null
  /** What the strips under it say, and all they told; null without. */
  readonly strips: (StripsRow & { readonly detail: StripDetail }) | null
}

/** A still of the bench as measured. */
export interface StillRow {
  readonly setting: string
  readonly family: Setting['family']
  readonly frame: CodedStill['frame']
  readonly walker: number
  readonly file: string
  /** Which moment of the walker's stand it is of. */
  readonly moment: number
  readonly densityPxPerM: number
  readonly chart: ReferenceRow
  readonly board: ReferenceRow
  /** Why the board's corners were not snapped; it is then measured as clicked. */
  readonly snapRefused: string | null
  /** Share read of characters with strokes of 8 and 16 mm at 24 %, then both at full contrast. */
  readonly read: readonly number[]
}

/** Measures a still as a walk's stills are: the chart found, the board clicked and snapped; and reads its characters. */
export async function measureVideo(walker: Walker, setting: Setting, still: CodedStill): Promise<StillRow> {
  const { file, enlarged, shift } = still
  const task = {
    path: file,
    file,
    distanceM: FAR_M,
    lens: null,
    promisedSize: null,
    ...gradingNeeds(GRADING),
  }
  const optics = { ...opticsOf(walker.blurPx, enlarged), enlarged, light: setting.light }
  const run = async (subject: StillTask['subject'], truth: TargetTruth): Promise<ReferenceRow> => {
    const result = await runStillTask({ ...task, subject })
    return result.ok ? rowOf(result.measurement, truth, optics) : { ...NOTHING, refused: result.code }
  }
  const chart = await run({ kind: 'chart', charts: [CHART], elseMend: null }, walker.chart)
  const board: Reference = { ...BOARD, ...exact }
  const corners = walker.board.corners.map(([x, y]) => [
    enlarged * (x + shift[0]),
    enlarged * (y + shift[1]),
  ]) as unknown as Quad
  const clicks = simulateClicks(
    corners,
    { sigmaPx: HAND_SIGMA_PX, outwardPx: 0.2 },
    seededRandom(walker.seed),
  )
  const opened = await openStill(file)
  if (!opened.ok) throw new Error(opened.message)
  const snapped = await snapCorners(opened.value, { ...BOARD, ...exact }, clicks)
  const pick: Pick = snapped.ok
    ? { kind: 'corners', method: 'snapped', ...withDoubts(snapped.value) }
    : { kind: 'corners', corners: clicks, sigmaPx: HAND_SIGMA_PX, method: 'hand' }
  const image = await decodeGrey(file)
  const inStill = (map: Homography): Homography =>
    composeHomographies(
      Float64Array.of(enlarged, 0, 0, 0, enlarged, 0, 0, 0, 1),
      movedHomography(map, ...shift),
    )
  return {
    setting: setting.name,
    family: setting.family,
    frame: still.frame,
    walker: walker.seed,
    file,
    moment: still.moment,
    densityPxPerM: walker.densityPxPerM,
    chart,
    board: await run({ kind: 'picked', reference: board, pick, pickedSha256: null }, walker.board),
    snapRefused: snapped.ok ? null : snapped.code,
    read: walker.cards.map(({ card, map }) =>
      shareRead(image, card, inStill(map), enlarged * walker.blurPx, enlarged),
    ),
  }
}

/** A snapped outline as a pick keeps it: with its doubts where it has some. */
const withDoubts = ({ doubts, ...outline }: SnappedCorners) =>
  doubts.length === 0 ? outline : { ...outline, doubts }

const NOTHING = {
  codes: [],
  axes: [],
  f10: null,
  effectiveLow: null,
  k: [null, null],
  usable: null,
  strips: null,
} as const
const STROKES_MM = [16, 8] as const
/** Grades of such elements. */
const GRADE_IDS = STROKES_MM.map(
  (mm) =>
    gradingNeeds(GRADING).elements.find(({ elementM }) => Math.abs(1000 * elementM - mm) < 0.01)!.gradeId,
)

/** What optics and pixels leave in a still: f10, cycles per px, and the area under the response, of which A is the density times. */
function opticsOf(blurPx: number, enlarged: number) {
  const steps = Array.from({ length: 100 }, (_, n) => (n + 0.5) / 200)
  const response = steps.map((f) => (f * enlarged > 0.5 ? 0 : gaussianPixelResponse(blurPx, f * enlarged)))
  const area = response.reduce((sum, value) => sum + value / 200, 0)
  return { f10: gaussianPixelCrossing(blurPx, 0.1) / enlarged, area }
}

function rowOf(
  measured: StillMeasurement,
  truth: TargetTruth,
  { f10, area, enlarged, light }: ReturnType<typeof opticsOf> & { enlarged: number; light: Setting['light'] },
): ReferenceRow {
  const { density, sharpness, effectiveDensity, tone, problems } = measured
  const axis = (said: number | null, U: number | null, exactly: number): AxisRow => ({
    error: said! / (enlarged * exactly) - 1,
    U: U! / said!,
  })
  const onTarget = enlarged * Math.min(truth.horizontalPxPerM, truth.verticalPxPerM)
  return {
    refused: null,
    codes: problems.map(({ code }) => code),
    axes: [
      axis(density.horizontal, density.horizontalU, truth.horizontalPxPerM),
      axis(density.vertical, density.verticalU, truth.verticalPxPerM),
    ],
    f10: sharpness === null ? null : Math.min(sharpness.horizontal.mtf10, sharpness.vertical.mtf10) / f10,
    effectiveLow:
      effectiveDensity === null || detailBound(measured, light) !== null
        ? null
        : effectiveDensity.low / (onTarget * Math.min(1, measured.strip ? area / 0.1 : f10 / 0.4)),
    k: GRADE_IDS.map((id) => tone?.roseK[id]?.k ?? null),
    usable: gradeStill(measured, GRADING, 'detail', null).usable,
    strips: measured.strip ? { ...stripsSay(measured.strip), detail: measured.strip } : null,
  }
}

/** Whether strokes are shown by A and by k, each with its U: 0.2 / A is the finest. */
export function stripsSay({ a, aU, k }: PooledStrips): StripsRow {
  const verdicts = STROKES_MM.map((mm, at): Verdict => {
    const leastA = 200 / mm
    const byK = standsOut(k[GRADE_IDS[at]!], GRADING)
    if (a + aU < leastA || byK === 'not met') return 'not met'
    return a - aU >= leastA && byK === 'met' ? 'met' : 'not shown'
  })
  return { verdicts, k: GRADE_IDS.map((id) => k[id]!.k), a, rel: aU / a }
}
