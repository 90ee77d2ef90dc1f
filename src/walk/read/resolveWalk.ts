import { chartPaper } from '../../chart/printed/chartPapers.js'
import type { Observation, WalkPromise } from '../../grade/judgement.js'
import { chartReference } from '../../measure/reference/chartReference.js'
import type { PlateBorder } from '../../measure/reference/reference.js'
import { referenceOfPreset, referencePresets } from '../../measure/reference/referencePresets.js'
import type { FoundGrading } from './readGrading.js'
import { nearestMark } from './sameMark.js'
import { DEFAULT_SIZE_TOLERANCE_M } from './parseReference.js'
import { LETTERS_PAPER, type SheetSetting, type Walk, type WalkCamera, type WalkReference } from './walk.js'
import type { WalkFile } from '../schemas/walkSchema.js'
import { gradeOfGrading, lightAsWritten, lightOfWalk } from './walkWords.js'

/** Half-width of a taped distance nobody gave a tolerance for, metres. This project's convention. */
const DEFAULT_DISTANCE_TOLERANCE_M = 0.05

/**
 * The walk a sound file stands for: defaults filled in, names in one spelling, presets looked up, distances that
 * are one mark made one number (the planned one where there is one). The file must have passed `walkFaults`.
 * @throws `ProofwalkError` `unknown-preset`, `unknown-paper`
 */
export function resolveWalk(
  file: WalkFile,
  found: FoundGrading,
  source: Pick<Walk, 'dir' | 'walkSha256' | 'walkPlainSha256'>,
): Walk {
  const lights = file.lights.map(lightAsWritten)
  const light = (name: string) => lightOfWalk(name, lights) ?? lightAsWritten(name)
  const beginsM = file.distance?.begins ?? 0
  const marksM = (file.marks ?? []).map((tapedM) => beginsM + tapedM).sort((a, b) => a - b)
  const knownM = [...marksM]
  const mark = (distanceM: number) => {
    const oneM = nearestMark(distanceM, knownM)
    if (!knownM.includes(oneM)) knownM.push(oneM)
    return oneM
  }
  return {
    ...source,
    gradingSha256: found.sha256,
    site: file.site.trim(),
    date: file.date ?? null,
    people: {
      client: file.people?.client ?? null,
      walkedBy: file.people?.walkedBy ?? null,
      measuredBy: file.people?.measuredBy ?? null,
    },
    issuer: { name: file.issuer?.name ?? null, logo: file.issuer?.logo ?? null },
    conditions: (file.conditions ?? []).map((one) => ({
      light: light(one.light),
      note: one.note ?? null,
      illuminance: one.illuminance ?? null,
    })),
    notes: file.notes ?? null,
    simulated: file.simulated ?? false,
    camera: cameraOf(file.camera),
    sheet: file.sheet === undefined ? null : sheetOf(file.sheet),
    units: file.units ?? 'metric',
    grading: found.grading,
    judge: file.judge ?? 'detail',
    references: Object.entries(file.references).map(([name, one]) => referenceOf(name, one)),
    distance: {
      from: file.distance?.from ?? 'camera',
      toleranceM: file.distance?.tolerance ?? DEFAULT_DISTANCE_TOLERANCE_M,
      beginsM,
    },
    marksM,
    lights,
    promises: (file.promises ?? []).map(({ at, ...one }): WalkPromise => {
      const named = (grade: string) => gradeOfGrading(grade, found.grading) ?? grade
      const there = { distanceM: mark(at), light: light(one.light) }
      if ('read' in one) {
        const { grade } = one
        return { ...one, grade: grade === undefined ? null : named(grade), ...there, kind: 'read' }
      }
      if (!('atMost' in one)) return { ...one, grade: named(one.grade), ...there }
      const { atMost, ...rest } = one
      return { ...rest, grade: named(atMost), ...there, kind: 'most' }
    }),
    stills: (file.stills ?? []).map((one) => ({
      file: one.file,
      distanceM: mark(beginsM + one.mark),
      light: light(one.light),
      reference: one.reference ?? null,
      ...(one.sameAs === undefined ? {} : { sameAs: one.sameAs }),
      ...(one.distinct === true ? { distinct: true } : {}),
    })),
    observations: (file.observations ?? []).map((one): Observation => ({
      distanceM: mark(beginsM + one.mark),
      light: light(one.light),
      ...(one.triggered === undefined ? {} : { triggered: one.triggered }),
      ...(one.by === undefined ? {} : { by: one.by }),
      ...(one.plateRead === undefined ? {} : { plateRead: one.plateRead ? 'yes' : 'no' }),
      ...(one.faceKnown === undefined ? {} : { faceKnown: one.faceKnown ? 'yes' : 'no' }),
      ...(one.note === undefined ? {} : { note: one.note }),
    })),
  }
}

function sheetOf({ paper = 'A4', mask = 'none' }: NonNullable<WalkFile['sheet']>): SheetSetting {
  return {
    paper,
    maskPlates: mask === 'plates' || mask === 'both',
    maskPeople: mask === 'people' || mask === 'both',
  }
}

function cameraOf(camera: WalkFile['camera']): WalkCamera {
  const view = camera.fieldOfView
  return {
    name: camera.name.trim(),
    id: camera.id ?? null,
    serial: camera.serial ?? null,
    settings: camera.settings ?? null,
    image: camera.image ?? null,
    fieldOfViewDeg:
      view === undefined ? null : { horizontal: view.horizontal ?? null, vertical: view.vertical ?? null },
    focalLengthM: camera.focalLength ?? null,
    sensor: camera.sensor ?? null,
    pixelPitchM: camera.pixelPitch ?? null,
    mountHeightM: camera.mountHeight ?? null,
    tiltDeg: camera.tilt ?? null,
  }
}

const borderOf = (border: PlateBorder | undefined) => (border === undefined ? {} : { border })

function referenceOf(name: string, file: WalkFile['references'][string]): WalkReference {
  const carriedAtM = file.carriedAt ?? null
  if ('preset' in file) {
    const preset = referencePresets.find(({ id }) => id === file.preset)!
    const reference = { ...referenceOfPreset(preset, name, file.tolerance), ...borderOf(file.border) }
    const text = file.text?.toUpperCase().replace(/[^A-Z0-9]/g, '')
    return { name, reference, preset: preset.id, carriedAtM, ...(text ? { reads: { text } } : {}) }
  }
  if ('letters' in file) {
    const paper = chartPaper(file.chart ?? LETTERS_PAPER)!
    const reference = chartReference(name, paper, file.printedWidth ?? null)
    return { name, reference, preset: null, carriedAtM, reads: { letters: file.letters } }
  }
  if ('chart' in file) {
    const chart = chartReference(name, chartPaper(file.chart)!, file.printedWidth ?? null)
    const reference = { ...chart, ...stripOf(file.strip) }
    return { name, reference, preset: null, carriedAtM }
  }
  const toleranceM = file.tolerance ?? DEFAULT_SIZE_TOLERANCE_M
  if ('length' in file) {
    const reference = { kind: 'length', name, lengthM: file.length, toleranceM } as const
    return { name, reference, preset: null, carriedAtM }
  }
  const reference = {
    kind: 'rectangle',
    name,
    widthM: file.width,
    heightM: file.height,
    widthToleranceM: toleranceM,
    heightToleranceM: toleranceM,
    marking: file.marking ?? 'plain',
    ...stripOf(file.strip),
    ...borderOf(file.border),
  } as const
  return { name, reference, preset: null, carriedAtM }
}

/** The paper of the strips under a reference, in our spelling. */
function stripOf(paper: string | undefined): { readonly strip?: string } {
  return paper === undefined ? {} : { strip: chartPaper(paper)!.id }
}
