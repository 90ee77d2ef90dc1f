// Whether a reference is called too noisy or washed out while it can be read. Truth: a matched filter that knows place and blur reads thirteen letters of this project's own
// font, drawn beside it at the reference's own two levels, with the strokes of the plate (11 mm) or of each grade's element. Arguments: stills per family (100), then families.
import { DEFAULT_LEAST_ROSE_K } from '../src/grade/gradings/grading.js'
import { builtInGradings } from '../src/grade/gradings/builtInGradings.js'
import { standsOut } from '../src/grade/gradings/standsOut.js'
import { tellsUnusable } from '../src/grade/gradings/gradeStill.js'
import { linearFromCode } from '../src/math/srgb.js'
import { type Random, seededRandom } from '../src/math/random.js'
import { measureSurface } from '../src/measure/surface/surface.js'
import { blurImage } from '../src/simulate/camera/blurImage.js'
import { strokeDistance, strokeText } from '../src/simulate/walker/strokeFont.js'
import { gradingNeeds } from '../src/walk/stills/planStills.js'
import { BOARD, PLATE } from '../tests/measure/boardReference.js'
import { clicked, photograph, plateParts, renderBoard } from '../tests/measure/renderedBoard.js'
import { stillOf } from '../tests/measure/stillOfRaster.js'

const perFamily = Number(process.argv[2] ?? 100)
const only = process.argv.slice(3)
const { grading } = builtInGradings[0]!
const { elements } = gradingNeeds(grading)
const LETTERS = 'ADEILMPSTU024'
const FINE = 4

/** What a family draws: noise in code values, contrast in code values, JPEG quality or null. */
interface Family {
  readonly name: string
  readonly noise: readonly [number, number]
  readonly contrast: readonly [number, number]
  readonly quality: number | null
}
const FAMILIES: readonly Family[] = [
  { name: 'day', noise: [0.5, 3], contrast: [60, 160], quality: null },
  { name: 'day-jpeg', noise: [0.5, 3], contrast: [60, 160], quality: 88 },
  { name: 'day-faint', noise: [0.5, 3], contrast: [12, 60], quality: null },
  { name: 'night', noise: [6, 30], contrast: [40, 140], quality: null },
  { name: 'night-jpeg', noise: [6, 30], contrast: [40, 140], quality: 88 },
  { name: 'night-faint', noise: [6, 30], contrast: [12, 60], quality: null },
]

const between = ([from, to]: readonly [number, number], random: Random): number =>
  from * (to / from) ** random.uniform()

/** Share of the letters that are read, strokes `strokePx` wide, each drawn `times`. */
async function shareRead(strokePx: number, view: View, random: Random, times = 2): Promise<number> {
  const height = Math.ceil(7 * strokePx + 6 * view.sigmaPx + 4)
  const width = Math.ceil(5.5 * strokePx + 6 * view.sigmaPx + 4)
  const templates = [...LETTERS].map((letter) => {
    const text = strokeText(letter, 6 * strokePx)
    const data = new Float32Array(width * FINE * height * FINE)
    for (let at = 0; at < data.length; at += 1) {
      const x = ((at % (width * FINE)) + 0.5) / FINE - width / 2 + text.width / 2
      const y = (Math.floor(at / (width * FINE)) + 0.5) / FINE - height / 2 + text.height / 2
      const ink = Math.max(0, Math.min(1, 0.5 + FINE * (strokePx / 2 - strokeDistance(text, x, y))))
      data[at] = view.bright + (view.dim - view.bright) * ink
    }
    const fine = { left: 0, top: 0, width: width * FINE, height: height * FINE, channels: 1 as const, data }
    const soft = blurImage(fine, view.sigmaPx * FINE).data
    return Float64Array.from({ length: width * height }, (_, at) => {
      let sum = 0
      for (let j = 0; j < FINE; j += 1)
        for (let i = 0; i < FINE; i += 1)
          sum += soft[(Math.floor(at / width) * FINE + j) * width * FINE + (at % width) * FINE + i]!
      return sum / FINE ** 2
    })
  })
  let right = 0
  const camera = { noiseCode: 0, quality: null }
  const clean = await Promise.all(
    templates.map((linear) => photograph({ width, height, linear }, camera, random)),
  )
  for (let time = 0; time < times; time += 1) {
    for (const [index, linear] of templates.entries()) {
      const { data } = await photograph({ width, height, linear }, view, random)
      const off = clean.map((one) => one.data.reduce((sum, code, at) => sum + (code - data[at]!) ** 2, 0))
      if (off.indexOf(Math.min(...off)) === index) right += 1
    }
  }
  return right / times / templates.length
}

interface View {
  readonly sigmaPx: number
  readonly bright: number
  readonly dim: number
  readonly noiseCode: number
  readonly quality: number | null
}

for (const family of FAMILIES.filter(({ name }) => only.length === 0 || only.includes(name))) {
  const random = seededRandom(family.name.length * 1000 + family.noise[0])
  const tally = { legible: 0, called: 0, unread: 0, uncalled: 0 }
  const grades = { read: 0, failed: 0, shut: 0, passed: 0, unreadAll: 0, passedOf: 0, untold: 0 }
  for (let n = 0; n < perFamily; n += 1) {
    const densityPxPerM = between([60, 290], random)
    const groundCode = 120 + 100 * random.uniform()
    const strokeCode = Math.max(8, groundCode - between(family.contrast, random))
    const view: View = {
      sigmaPx: between([0.5, 1.8], random),
      bright: linearFromCode(groundCode),
      dim: linearFromCode(strokeCode),
      noiseCode: between(family.noise, random),
      quality: family.quality,
    }
    const isPlate = n % 2 === 0
    const reference = isPlate ? PLATE : BOARD
    const [widthPx, heightPx] = [reference.widthM, reference.heightM].map((m) => m * densityPxPerM) as [
      number,
      number,
    ]
    const picture = renderBoard({
      widthPx,
      heightPx,
      rollRad: 0.1 * random.uniform(),
      sigmaPx: view.sigmaPx,
      board: view.bright,
      surround: isPlate ? linearFromCode(70) : view.dim,
      shift: [random.uniform(), random.uniform()],
      parts: isPlate ? plateParts(widthPx, view.dim) : [],
      marginPx: 34,
    })
    const raster = await photograph(picture, view, random)
    const corners = clicked(picture.corners, random)
    const against = { reference, elements, fullDetailAt: 0.4 }
    const { tone, problems } = await measureSurface(stillOf(raster), against, corners, densityPxPerM)
    const share = await shareRead((isPlate ? 0.011 : 0.016) * densityPxPerM, view, random)
    const called = problems.some(tellsUnusable)
    if (share >= 0.9) tally.legible += 1
    if (share >= 0.9 && called) tally.called += 1
    if (share < 0.5) tally.unread += 1
    if (share < 0.5 && !called) tally.uncalled += 1
    for (const id of ['recognise', 'identify']) {
      const { elementM } = elements.find(({ gradeId }) => gradeId === id)!
      const read = await shareRead(elementM * densityPxPerM, view, random)
      const finest = await shareRead(0.625 * elementM * densityPxPerM, view, random)
      const answer = standsOut(tone?.roseK[id], grading)
      if (answer === null) grades.untold += 1
      if (read >= 0.9) grades.read += 1
      if (read >= 0.9 && answer === 'not met') grades.failed += 1
      if (finest >= 0.9) grades.passedOf += 1
      if (finest >= 0.9 && answer !== 'met' && answer !== null) grades.shut += 1
      if (read < 0.5) grades.unreadAll += 1
      if (read < 0.5 && answer === 'met') grades.passed += 1
    }
  }
  console.log(
    `${family.name.padEnd(12)} legible ${tally.legible}, of them called unusable ${tally.called}; unread ${tally.unread}, not called ${tally.uncalled}; ` +
      `strokes of the element read ${grades.read}, said not to stand out ${grades.failed}; unread ${grades.unreadAll}, said to stand out ${grades.passed}; ` +
      `of the finest read ${grades.passedOf}, not said to stand out ${grades.shut}; k untold ${grades.untold} of ${2 * perFamily} (k ${DEFAULT_LEAST_ROSE_K})`,
  )
}
