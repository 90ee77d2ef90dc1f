/** The first line of a demonstration's walk.yaml, by which an earlier one is known. */
export const DEMO_FIRST_LINE = '# Proofwalk demonstration: an invented place, simulated stills.'

/** walk.yaml of the demonstration, as a fitter would write it. The camera's data sheet contradicts itself on purpose. */
export const DEMO_WALK_TEXT = `${DEMO_FIRST_LINE}
# Nothing here was photographed: place, people, camera and plate are made up. Change a line and run
# "proofwalk measure" on this folder again to see what it does.

site: North slipway
date: 2026-03-14
simulated: true                 # every page of the sheet says so
people: { client: Harbour office (invented), walkedBy: the fitter, measuredBy: the fitter }
issuer: { name: Slipway Security (invented) }
conditions:
  - { light: day, note: "thin cloud, dry ground" }
  - { light: infrared, note: "moonless, dry; the camera's own lamp", illuminance: 0.1 lx }
  - { light: lamp, note: "moonless, dry; the yard lamp alone" }
notes: wide unit on the net store's gable

camera:
  name: Slipway camera
  id: C-07
  image: { width: 3840, height: 2160 }            # px of the exported still
  # From the data sheet, which does not agree with itself.
  fieldOfView: { horizontal: 100, vertical: 52 }  # degrees
  focalLength: 6.6 mm
  sensor: 1/1.7
  mountHeight: 2.6 m
  tilt: 12                                        # degrees down

grading: iec-62676-4-2014
judge: detail                   # pixels that carry no detail do not count

references:
  # A white board on a black panel that leaves 100 mm around it: quiet ground, so that detail can be told.
  board: { width: 600 mm, height: 400 mm, tolerance: 1 mm, carriedAt: 1.1 m }
  plate: { preset: plate-eu, carriedAt: 1.2 m }
  # The printed chart, its black frame taped after printing: nobody clicks it, it is found.
  chart: { chart: A2, printedWidth: 487.2 mm, carriedAt: 1.15 m }

distance: { from: camera, tolerance: 0.05 m }
marks: [4 m, 6 m, 9 m, 12 m, 16 m, 17.5 m, 20 m]
lights: [day, infrared, lamp]

# What the camera was sold to do.
promises:
  - { task: know who comes down the slip, grade: recognise, at: 16 m, light: day, reference: board }
  - { task: know who stands at the winch, grade: recognise, at: 17.5 m, light: day, reference: board }
  - { task: know a stranger at the gate, grade: identify, at: 6 m, light: infrared, reference: board }
  - { task: read a plate at the gate, grade: identify, at: 6 m, light: infrared, reference: plate }
  - { task: know who is at the shed, grade: recognise, at: 12 m, light: lamp, reference: board }

# What was seen by eye on the night.
observations:
  - { mark: 6 m, light: infrared, triggered: true, by: recording, plateRead: no, note: plate glares }
  - { mark: 16 m, light: infrared, triggered: true, by: recording }
  - { mark: 20 m, light: infrared, triggered: false }
`
