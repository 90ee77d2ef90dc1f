// Measures the search for the printed chart against the bare luma decode of the same still: 12 megapixels (JPEG, quality 88), a cluttered
// scene with noise of 2 code values, one thread, CPU time, decoding included. Prints the ratio of a still whose chart is found at half size, and
// of stills without a chart, which are searched to the end, in colour and in grey (whose decode costs a quarter): medians of pairs taken in turn. Then the most memory of a process of its own that
// searches such a still six times. Arguments: pairs (11), width of the stills (4000 px), photographs; a mosaic of them is searched too.
import { execFileSync } from 'node:child_process'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import sharp from 'sharp'
import { boxCorners, chartAreas, chartFace } from '../dist/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../dist/chart/printed/chartPapers.js'
import { searchChart } from '../dist/chart/find/searchChart.js'
import { seededRandom } from '../dist/math/random.js'
import { measureStill } from '../dist/measure/measureStill.js'
import { chartReference } from '../dist/measure/reference/chartReference.js'
import { openStill } from '../dist/still/openStill.js'
import { measureFoundChart } from '../dist/walk/measure/measureFoundChart.js'

const ROUNDS = Number(process.argv[2] ?? 11)
const WIDTH = Number(process.argv[3] ?? 4000)
const SIZE = { width: WIDTH, height: (3 * WIDTH) / 4 }
const BOXES = 1500 * (WIDTH / 4000) ** 2
const NOISE_DN = 2
/** Pixels to a module: 3 to 6 are found at half size. */
const MODULE_PX = 5
/** Of charts that are measured, and the things around them. */
const MEASURED_PX = [8.5, 30, 57].map((px) => (px * WIDTH) / 4000)
const FEW_BOXES = 200
/** The chart's face. */
const FACE = 3
/** Size of a mosaic's photographs, px. */
const TILE = { width: 800, height: 600 }
/** The argument that asks for the memory of the search alone. */
const MEMORY = '--memory-of'

sharp.cache(false)
sharp.concurrency(1)
if (process.argv[2] === MEMORY) {
  await printMemory(process.argv[3])
  process.exit(0)
}
const home = await mkdtemp(join(tmpdir(), 'proofwalk-bench-'))
try {
  console.log(
    `search / bare luma decode, ${(SIZE.width * SIZE.height) / 1e6} megapixels, ${ROUNDS} pairs on one thread:`,
  )
  const none = await writeScene(join(home, 'none.jpg'), null)
  await compare('chart found at half size', await writeScene(join(home, 'chart.jpg'), MODULE_PX), true)
  await compare('no chart, searched to the end', none, false)
  await compare('the same in grey', await writeGrey(none, join(home, 'grey.jpg')), false)
  for (const px of MEASURED_PX)
    await compare(
      `chart of ${px} px a module, searched and measured`,
      await writeScene(join(home, 'near.jpg'), px, FEW_BOXES),
      true,
      measureFound,
    )
  const photographs = process.argv.slice(4)
  if (photographs.length > 0)
    await compare(
      `mosaic of ${photographs.length} photographs, searched to the end`,
      await writeMosaic(join(home, 'mosaic.jpg'), photographs),
      false,
    )
  process.stdout.write(
    execFileSync(process.execPath, [fileURLToPath(import.meta.url), MEMORY, none], { encoding: 'utf8' }),
  )
} finally {
  await rm(home, { recursive: true, force: true })
}

async function printMemory(path) {
  // Not the highest mark of the system, which a process takes over from the one that started it.
  let most = 0
  const look = () => (most = Math.max(most, process.memoryUsage.rss() / 2 ** 20))
  for (let round = 0; round < 6; round++) {
    const still = await openStill(path)
    const whole = await still.value.whole()
    look()
    searchChart(whole)
    look()
  }
  console.log(`  most memory of a process that searches it six times: ${most.toFixed(0)} MB`)
}

async function compare(name, path, found, further = () => {}) {
  const ratios = []
  const least = { bare: Infinity, search: Infinity }
  for (let round = 0; round <= ROUNDS; round++) {
    const bareMs = await cpuMs(() =>
      sharp(path, { sequentialRead: true }).toColourspace('b-w').raw().toBuffer(),
    )
    const searchMs = await cpuMs(async () => {
      const still = await openStill(path)
      const whole = await still.value.whole()
      const outcome = searchChart(whole)
      if (outcome.ok !== found) throw new Error(`${name}: ${outcome.ok ? 'a chart' : outcome.code}`)
      await further(whole, outcome)
    })
    if (round === 0) continue // the first pair warms up
    ratios.push(searchMs / bareMs)
    least.bare = Math.min(least.bare, bareMs)
    least.search = Math.min(least.search, searchMs)
  }
  ratios.sort((a, b) => a - b)
  const median = ratios[(ROUNDS - 1) / 2].toFixed(2)
  const ofLeast = (least.search / least.bare).toFixed(2)
  console.log(
    `  ${name}: ${ratios.map((ratio) => ratio.toFixed(2)).join('  ')}   median ${median}, least against least ${ofLeast}`,
  )
}

async function measureFound(whole, { value: found }) {
  const paper = CHART_PAPERS.find(({ face }) => face === FACE)
  const chart = measureFoundChart(whole, found, paper)
  if (!chart.ok) throw new Error(chart.message)
  const measured = await measureStill(whole, {
    reference: chartReference('chart', paper, null),
    pick: chart.value.pick,
    chart: chart.value,
    elements: [],
    fullDetailAt: 0.5,
  })
  if (!measured.ok) throw new Error(measured.message)
}

/** A scene with a chart of so many px a module, or none. */
async function writeScene(path, modulePx, boxes = BOXES) {
  const random = seededRandom(12)
  const grey = (light) => `rgb(${light},${Math.round(light * 0.97)},${Math.round(light * 0.92)})`
  const parts = [`<rect width="100%" height="100%" fill="${grey(120)}"/>`]
  for (let n = 0; n < boxes; n++) {
    const size = 6 * 25 ** random.uniform()
    const [x, y] = [SIZE.width * random.uniform(), SIZE.height * random.uniform()]
    const [w, h] = [size * (0.6 + 2 * random.uniform()), size * (0.6 + 2 * random.uniform())]
    const turn = random.uniform() < 0.6 ? 17 * (random.uniform() - 0.5) : 180 * random.uniform()
    const light = Math.round(30 + 210 * random.uniform())
    parts.push(
      `<rect x="${x}" y="${y}" width="${w}" height="${h}" fill="${grey(light)}" transform="rotate(${turn} ${x} ${y})"/>`,
    )
  }
  if (modulePx !== null) parts.push(drawnChart(modulePx))
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${SIZE.width}" height="${SIZE.height}">${parts.join('')}</svg>`
  const data = await sharp(Buffer.from(svg)).flatten().removeAlpha().blur(0.8).raw().toBuffer()
  for (let at = 0; at < data.length; at += 3) {
    const noise = NOISE_DN * random.normal()
    for (let k = at; k < at + 3; k++) data[k] = Math.min(255, Math.max(0, Math.round(data[k] + noise)))
  }
  await writeFile(
    path,
    await sharp(data, { raw: { ...SIZE, channels: 3 } })
      .jpeg({ quality: 88 })
      .toBuffer(),
  )
  return path
}

async function writeGrey(from, path) {
  await sharp(from).toColourspace('b-w').jpeg({ quality: 88 }).toFile(path)
  return path
}

/** Photographs side by side, each as large as a tile, over and over. */
async function writeMosaic(path, photographs) {
  const tiles = []
  for (const file of photographs)
    tiles.push(
      await sharp(file)
        .resize({ ...TILE, fit: 'cover' })
        .toColourspace('srgb')
        .removeAlpha()
        .png()
        .toBuffer(),
    )
  const placed = []
  for (let top = 0; top < SIZE.height; top += TILE.height)
    for (let left = 0; left < SIZE.width; left += TILE.width)
      placed.push({ input: tiles[placed.length % tiles.length], left, top })
  await sharp({ create: { ...SIZE, channels: 3, background: 'grey' } })
    .composite(placed)
    .jpeg({ quality: 88 })
    .toFile(path)
  return path
}

function drawnChart(modulePx) {
  const light = (ink) =>
    `rgb(${[230, 225, 215].map((white) => Math.round(white + (35 - white) * ink)).join(',')})`
  const sheet = { left: 0, top: 0, right: 14, bottom: 10 }
  const polygon = (corners, ink) =>
    `<polygon points="${corners.map((corner) => corner.join(',')).join(' ')}" fill="${light(ink)}"/>`
  const areas = chartAreas(chartFace(FACE))
  // Each area lies on the frame's ink, or on the light half's paper.
  const drawn = areas.map((area) =>
    polygon(
      area.corners,
      area.part === 'frame' || area.part === 'darkSlab' ? 1 : area.part === 'strip' ? 1 + area.weight : 0,
    ),
  )
  return `<g transform="translate(${0.575 * SIZE.width} ${(7 / 15) * SIZE.height}) rotate(6) scale(${modulePx})">${polygon(boxCorners(sheet), 0)}${drawn.join('')}</g>`
}

async function cpuMs(work) {
  const start = process.cpuUsage()
  await work()
  const { user, system } = process.cpuUsage(start)
  return (user + system) / 1000
}
