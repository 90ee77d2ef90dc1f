/** The shortest walk that is sound. */
export const SHORT_WALK = `site: North slipway
date: 2026-03-14
camera: { name: Slipway camera }
references: { plate: { preset: plate-eu } }
lights: [day, infrared]
`

/** A walk with every key that is built. */
export const FULL_WALK = `site: North slipway
date: 2026-03-14                # of the walk
people: { client: Harbour office, walkedBy: the fitter, measuredBy: the fitter }
issuer: { name: Slipway Security (invented), logo: logo.png }
conditions: [{ light: infrared, note: "moonless, dry", illuminance: 0.1 lx }]
notes: wide unit on the net store's gable
camera:
  name: Slipway camera
  id: C-07
  serial: 007
  settings: 12e3
  image: { width: 3840, height: 2160 }
  fieldOfView: { horizontal: 100, vertical: 52 }
  focalLength: 4 mm
  sensor: 1/2.8
  pixelPitch: 2.9 um
  mountHeight: 2.6 m
  tilt: 12
units: metric
grading: iec-62676-4-2014
judge: detail
references:
  plate: { preset: plate-eu }
  board: { width: 600 mm, height: 400 mm, tolerance: 1 mm, carriedAt: 1.1 m }
  staff: { length: 2 m, tolerance: 2 mm }
distance: { from: camera, tolerance: 0.05 m }
marks: [4 m, 6 m, 9 m, 12 m, 16 m, 20 m]
lights: [day, infrared]
promises:
  - { grade: recognise, at: 16 m, light: day }
  - { grade: identify, at: 5 m, light: infrared, reference: board }
stills:
  - { file: stills/export-0001.jpg, mark: 16 m, light: day, reference: plate }
observations:
  - { mark: 18 m, light: infrared, triggered: true, by: recording, plateRead: no, faceKnown: no, note: from the left }
`
