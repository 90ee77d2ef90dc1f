import { isChart } from '../../measure/reference/reference.js'
import type { MeasuredWalk } from '../schemas/resultsSchema.js'
import type { Walk, WalkReference } from '../read/walk.js'

/**
 * The walk as `results.json` keeps it: the keys of walk.yaml, lengths in metres, defaults filled in, null where the walk says nothing. It
 * names no folder, so that the same walk gives the same bytes wherever it lies.
 */
export function measuredWalk(walk: Walk): MeasuredWalk {
  const { camera } = walk
  return {
    site: walk.site,
    date: walk.date,
    dateFrom: walk.date === null ? null : 'walk',
    people: { ...walk.people },
    issuer: { ...walk.issuer },
    conditions: walk.conditions.map((condition) => ({ ...condition })),
    notes: walk.notes,
    simulated: walk.simulated,
    camera: {
      name: camera.name,
      id: camera.id,
      serial: camera.serial,
      settings: camera.settings,
      image: camera.image === null ? null : { ...camera.image },
      fieldOfView: camera.fieldOfViewDeg === null ? null : { ...camera.fieldOfViewDeg },
      focalLength: camera.focalLengthM,
      sensor: camera.sensor?.text ?? null,
      pixelPitch: camera.pixelPitchM,
      mountHeight: camera.mountHeightM,
      tilt: camera.tiltDeg,
    },
    units: walk.units,
    judge: walk.judge,
    references: Object.fromEntries(walk.references.map((entry) => [entry.name, measuredReference(entry)])),
    distance: {
      from: walk.distance.from,
      tolerance: walk.distance.toleranceM,
      begins: walk.distance.beginsM,
    },
    marks: [...walk.marksM],
    lights: [...walk.lights],
    promises: walk.promises.map((promise) => ({
      grade: promise.grade,
      at: promise.distanceM,
      light: promise.light,
      reference: promise.reference ?? null,
      task: promise.task ?? null,
      what: promise.what ?? null,
      kind: promise.kind ?? 'least',
      ...(promise.read === undefined ? {} : { read: promise.read }),
    })),
    observations: walk.observations.map((seen) => ({
      mark: seen.distanceM,
      light: seen.light,
      triggered: seen.triggered ?? null,
      by: seen.by ?? null,
      plateRead: seen.plateRead ?? null,
      faceKnown: seen.faceKnown ?? null,
      note: seen.note ?? null,
    })),
  }
}

function measuredReference({
  reference,
  preset,
  carriedAtM,
  reads,
}: WalkReference): MeasuredWalk['references'][string] {
  if (reference.kind === 'length') {
    return { preset, length: reference.lengthM, tolerance: reference.toleranceM, carriedAt: carriedAtM }
  }
  const strip = reference.strip === undefined ? {} : { strip: reference.strip }
  if (isChart(reference)) {
    return {
      chart: reference.chart.paper,
      printedWidth: reference.chart.printedWidthM,
      width: reference.widthM,
      height: reference.heightM,
      widthTolerance: reference.widthToleranceM,
      heightTolerance: reference.heightToleranceM,
      ...strip,
      ...reads,
      carriedAt: carriedAtM,
    }
  }
  return {
    preset,
    width: reference.widthM,
    height: reference.heightM,
    widthTolerance: reference.widthToleranceM,
    heightTolerance: reference.heightToleranceM,
    marking: reference.marking,
    ...strip,
    ...reads,
    carriedAt: carriedAtM,
  }
}
