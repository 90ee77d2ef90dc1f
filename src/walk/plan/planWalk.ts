import { paperForDistance, chartReachM, leastPxPerModule } from '../../chart/printed/chartReach.js'
import { chartPaper, type ChartPaper } from '../../chart/printed/chartPapers.js'
import { marksToTape, type TapeMark } from '../../grade/marksToTape.js'
import type { WalkPromise } from '../../grade/judgement.js'
import type { Grade } from '../../grade/gradings/grading.js'
import type { Contradiction, LensReading, LensRemark, Span } from '../../lens/dataSheet.js'
import { groundUnderSight, groundView, type GroundView, halfVerticalRad } from '../../lens/groundView.js'
import { greatestShare } from '../../lens/greatestShare.js'
import { type MarkPrediction, predictMark } from '../../lens/predictMark.js'
import { isChart } from '../../measure/reference/reference.js'
import { neededDensities } from './neededDensities.js'
import { planMissing } from './planMissing.js'
import { foretelling, sheetReading } from '../lens/sheetReading.js'
import type { Walk } from '../read/walk.js'
import { dropToReferenceM, lineOfSightM, tapedDistanceM } from '../read/walkHeights.js'

/** A mark of the plan with what the data sheet implies there. Distances metres. */
export interface PlannedMark extends TapeMark, MarkPrediction {
  /** To the plan's reference. */
  readonly lineOfSightM: number
  /** Along the ground from below the camera; null where the heights are not told. */
  readonly alongGroundM: number | null
}

/** How far out a grade should hold, as taped, metres; null where the sheet does not tell or it holds nowhere. */
export interface PlannedRange {
  readonly grade: Grade
  readonly distanceM: number | null
  /** What the sheet's written digits leave of it. */
  readonly boundsM: Span | null
  readonly rectilinearDistanceM: number | null
}

/** A promise with what the data sheet lets one expect of it. */
export interface PlannedPromise {
  readonly promise: WalkPromise
  /** Null where it is reading alone. */
  readonly grade: Grade | null
  readonly densityPxPerM: number | null
  readonly boundsPxPerM: Span | null
  readonly rectilinearDensityPxPerM: number | null
  /** What must be measured there for the whole interval to be on the right side of the limit; null where that is not foretold. */
  readonly neededPxPerM: number | null
}

/** The paper whose chart is still found at the farthest mark in the worst of the walk's lights, and how far out it is. */
interface PlannedPaper {
  /** Null where even the largest is not found there. */
  readonly paper: ChartPaper | null
  readonly farthestM: number
  readonly light: string
  readonly pxPerModule: number
  /** To where the paper's chart (the largest there is, where none suffices) is found, line of sight, metres. */
  readonly reachM: number
  /** Whether the walk's own chart is smaller than it should be; null where the walk carries none. */
  readonly carriedTooSmall: boolean | null
}

/** What can be foretold of a walk. */
export interface WalkPlan {
  /** Without a lens where the sheet contradicts what it would be read from; null where the walk gives no still size to read it with. */
  readonly reading: LensReading | null
  readonly marks: readonly PlannedMark[]
  readonly ranges: readonly PlannedRange[]
  readonly promises: readonly PlannedPromise[]
  readonly contradictions: readonly Contradiction[]
  readonly readings: readonly LensRemark[]
  readonly paper: PlannedPaper | null
  /** Half of what the camera sees up and down; null where the sheet does not tell. */
  readonly halfVerticalRad: number | null
  /** Where the view meets the ground; null where heights, tilt or the vertical angle are not told, or it does not. */
  readonly ground: GroundView | null
  /** Where it meets the height at which the plan's reference is carried. */
  readonly atReference: GroundView | null
  /** The reference whose height the distances are worked out with. */
  readonly reference: string
  /** What the walk does not say and the plan would need, a sentence each. */
  readonly missing: readonly string[]
}

/**
 * What the data sheet of a walk lets one expect, and what to tape and print for it. The sheet is a claim: nothing here is measured. Pure; all
 * lengths metres, densities px/m.
 */
export function planWalk(walk: Walk): WalkPlan {
  const reading = foretelling(sheetReading(walk))
  const reference = heightReference(walk)
  const F = reading?.lens?.pixelsPerRadian ?? null
  const reach = (pixelsPerRadian: number | null | undefined, limit: number): number | null =>
    pixelsPerRadian === null || pixelsPerRadian === undefined
      ? null
      : tapedDistanceM(walk, reference, pixelsPerRadian / limit)
  const ranges = walk.grading.grades.map((grade) => {
    const [distanceM, lowM, highM] = [F, reading?.bounds?.low, reading?.bounds?.high].map((each) =>
      reach(each, grade.limit),
    )
    return {
      grade,
      distanceM: distanceM!,
      boundsM: distanceM === null ? null : { low: lowM ?? 0, high: highM! },
      rectilinearDistanceM: reach(reading?.rectilinearPixelsPerRadian, grade.limit),
    }
  })
  const statedDeg = reading?.inDoubt === true ? null : (walk.camera.fieldOfViewDeg?.vertical ?? null)
  const halfRad = halfVerticalRad(reading, statedDeg)
  const atReference = viewAt(walk, halfRad, carriedAtM(walk, reference))
  const tape = marksToTape({
    plannedM: walk.marksM,
    // What must not be seen is shown by any nearer still.
    promisedM: walk.promises.filter(({ kind }) => kind !== 'most').map(({ distanceM }) => distanceM),
    expectedEndsM: ranges.flatMap(({ distanceM }) => distanceM ?? []),
    nearestM: atReference?.beginsM ?? 0,
    units: walk.units,
  })
  const predict = (distanceM: number, of: string): MarkPrediction =>
    reading === null
      ? NOTHING
      : predictMark(reading, walk.camera.image!.width, lineOfSightM(walk, of, distanceM))
  const needed = neededDensities(
    walk,
    F,
    tape.map(({ distanceM }) => distanceM),
  )
  return {
    reading,
    marks: tape.map((mark) => {
      const sightM = lineOfSightM(walk, reference, mark.distanceM)
      const dropM = dropToReferenceM(walk, reference)
      return {
        ...mark,
        ...predict(mark.distanceM, reference),
        lineOfSightM: sightM,
        alongGroundM: dropM === null ? null : groundUnderSight(sightM, dropM),
      }
    }),
    ranges,
    promises: walk.promises.map((promise, index) => {
      const predicted = predict(promise.distanceM, promise.reference ?? reference)
      const { densityPxPerM, boundsPxPerM, rectilinearDensityPxPerM } =
        promise.kind === 'most' ? greatestAnywhere(predicted, reading, walk) : predicted
      const grade = walk.grading.grades.find(({ id }) => id === promise.grade) ?? null
      return {
        promise,
        grade,
        densityPxPerM,
        boundsPxPerM,
        rectilinearDensityPxPerM,
        neededPxPerM: needed[index]!,
      }
    }),
    contradictions: reading?.contradictions ?? [],
    readings: reading?.readings ?? [],
    paper: paperOf(walk, reading, lineOfSightM(walk, reference, tape.at(-1)!.distanceM)),
    halfVerticalRad: halfRad,
    ground: viewAt(walk, halfRad, 0),
    atReference,
    reference,
    missing: planMissing(walk, reading),
  }
}

const NOTHING: MarkPrediction = {
  densityPxPerM: null,
  boundsPxPerM: null,
  densityAtEdgePxPerM: null,
  rectilinearDensityPxPerM: null,
  widthOfViewM: null,
}

/** The first reference whose height is told, else the first. */
/** What is predicted in the middle of the picture, raised to the greatest anywhere in it. */
function greatestAnywhere(
  middle: MarkPrediction,
  reading: LensReading | null,
  { camera }: Walk,
): MarkPrediction {
  if (!reading?.lens || camera.image === null) return middle
  const cornerPx = Math.hypot(camera.image.width, camera.image.height) / 2
  const share = greatestShare(reading.lens.p, cornerPx / reading.lens.pixelsPerRadian)
  const straightF = reading.rectilinearPixelsPerRadian
  const straight = straightF === null ? 1 : greatestShare(1, cornerPx / straightF)
  const { densityPxPerM, boundsPxPerM, rectilinearDensityPxPerM } = middle
  return {
    ...middle,
    densityPxPerM: densityPxPerM && densityPxPerM * share,
    boundsPxPerM: boundsPxPerM && { low: boundsPxPerM.low * share, high: boundsPxPerM.high * share },
    rectilinearDensityPxPerM: rectilinearDensityPxPerM && rectilinearDensityPxPerM * straight,
  }
}

function heightReference({ references }: Walk): string {
  return (references.find(({ carriedAtM }) => carriedAtM !== null) ?? references[0]!).name
}

function carriedAtM({ references }: Walk, reference: string): number | null {
  return references.find(({ name }) => name === reference)?.carriedAtM ?? null
}

function viewAt({ camera }: Walk, halfRad: number | null, heightM: number | null): GroundView | null {
  const { mountHeightM, tiltDeg } = camera
  if (mountHeightM === null || tiltDeg === null || halfRad === null || heightM === null) return null
  return groundView({ mountHeightM, tiltRad: (tiltDeg * Math.PI) / 180, halfVerticalRad: halfRad }, heightM)
}

// Of two readings of one sheet the poorer counts: a chart that is larger than it need be costs a sheet of paper, one too small a walk.
function paperOf(walk: Walk, reading: LensReading | null, farthestM: number): PlannedPaper | null {
  const readings = [reading?.lens?.pixelsPerRadian, reading?.rectilinearPixelsPerRadian]
  const known = readings.filter((F) => F !== null && F !== undefined)
  if (known.length === 0) return null
  const F = Math.min(...known)
  const [light] = [...walk.lights].sort((a, b) => leastPxPerModule(b) - leastPxPerModule(a))
  const pxPerModule = leastPxPerModule(light!)
  const paper = paperForDistance(farthestM, F, pxPerModule, walk.units)
  const carried = walk.references.map(({ reference }) => reference).filter(isChart)
  const reaches = (one: ChartPaper): number => chartReachM(one, F, pxPerModule)
  return {
    paper,
    farthestM,
    light: light!,
    pxPerModule,
    reachM: reaches(paper ?? chartPaper('A0')!),
    carriedTooSmall:
      carried.length === 0
        ? null
        : carried.every(({ chart }) => reaches(chartPaper(chart.paper)!) < farthestM),
  }
}
