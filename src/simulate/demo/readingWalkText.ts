/** The first line of its walk.yaml, by which an earlier demonstration of the reading trial is known. */
export const READING_FIRST_LINE =
  '# Proofwalk demonstration of the reading trial: simulated stills, simulated readers.'

/** Where cards are held up, metres, and how many at each. */
export const READING_MARKS_M = [4, 5, 6, 7, 8.5, 10, 12, 14] as const
export const READING_CARDS_A_MARK = 3

/** walk.yaml of the demonstration of the reading trial. */
export const READING_WALK_TEXT = `${READING_FIRST_LINE}
# Nothing here was photographed, and nobody read it: stills and readers are simulated. Read it yourself:
# move readings.json away and run "proofwalk read" on this folder.

site: Harbour gate
date: 2026-03-14
simulated: true                 # every page of the sheet says so
people: { client: Harbour office (invented), walkedBy: the fitter, measuredBy: the fitter }
camera:
  name: Gate camera, second stream
  image: { width: 640, height: 480 }

references:
  card: { letters: cards.json }  # a letter card under the A2 chart, another at every still

marks: [${READING_MARKS_M.map((mark) => `${mark} m`).join(', ')}]
lights: [day]

# What the camera was sold to do.
promises:
  - { task: read a plate at the gate, read: 95 %, grade: recognise, at: 5 m, light: day }
  - { task: read a plate at the kerb, read: 95 %, grade: recognise, at: 7 m, light: day }
  - { task: read a plate across the road, read: 95 %, grade: observe, at: 12 m, light: day }
`

/** Who reads in the demonstration: nobody. Half of black characters are right at `halfM`. */
export const SIMULATED_READERS = [9.4, 10.6, 9.9, 11, 10.2].map((halfM, index) => ({
  name: `simulated reader ${index + 1}`,
  halfM,
}))
