// Whether the nearest mark tells that a plate has a dark border at its rim: plates of 520 x 111 mm with own characters, no border, a dark rim of 2 to 4 mm or a line of 3 mm inset by
// 4 mm, a dark band of 44 mm at the left in 2 of 5, before dark, mid-grey, light ground and ground as light as the plate, by day (noise 2), blur 0.7 to 1.6 px, JPEG 75 to 95, 220 to
// 600 px/m (even in its logarithm), four clicks of 1 px. Told right: the rim's width within 0.7 mm. Arguments: plates a class (25), then the seed (1).
import { type Random, seededRandom } from '../src/math/random.js'
import { seenRim } from '../src/measure/snap/seenRim.js'
import { PLATE } from '../tests/measure/boardReference.js'
import { photographOutline, plateScene, rimLine } from '../tests/measure/outlineScene.js'
import { clicked } from '../tests/measure/renderedBoard.js'
import { stillOf } from '../tests/measure/stillOfRaster.js'

const perClass = Number(process.argv[2] ?? 25)
const random = seededRandom(Number(process.argv[3] ?? 1))
const GROUNDS = { dark: 0.04, grey: 0.18, light: 0.35, 'as the plate': 0.6 } as const
const RIGHT_MM = 0.7
const BAND_MM = 44

async function told(
  border: string,
  surround: number,
  from: Random,
): Promise<{ mm: number; true: number } | null> {
  const widthPx = 0.52 * 220 * (600 / 220) ** from.uniform()
  const trueMm = 2 + 2 * from.uniform()
  const plain = plateScene(widthPx, from, surround)
  const lines =
    border === 'none' ? [] : border === 'rim' ? rimLine(widthPx, 0, trueMm) : rimLine(widthPx, 4, 3)
  const inMm = widthPx / 520
  const band = {
    left: -widthPx / 2,
    top: -55.5 * inMm,
    right: -widthPx / 2 + BAND_MM * inMm,
    bottom: 55.5 * inMm,
    level: 0.05,
  }
  const hasBand = from.uniform() < 0.4
  const parts = hasBand ? [...plain.parts!.filter(({ left }) => left > band.right), band] : plain.parts!
  const scene = { ...plain, blurPx: 0.7 + 0.9 * from.uniform(), parts: [...parts, ...lines] }
  const camera = { noiseCode: 2, quality: Math.round(75 + 20 * from.uniform()) }
  const { raster, corners } = await photographOutline(scene, camera, from)
  const rim = await seenRim(stillOf(raster), clicked(corners, from, 1), PLATE)
  return rim === null ? null : { mm: 1000 * rim.widthM, true: trueMm }
}

console.log('| border | ground | plates | a rim told | its width right |')
console.log('|---|---|---|---|---|')
for (const border of ['none', 'rim', 'inset'])
  for (const [ground, surround] of Object.entries(GROUNDS)) {
    let [tellings, right] = [0, 0]
    for (let plate = 0; plate < perClass; plate += 1) {
      const rim = await told(border, surround, random)
      if (rim === null) continue
      tellings += 1
      if (border === 'rim' && Math.abs(rim.mm - rim.true) <= RIGHT_MM) right += 1
    }
    console.log(`| ${[border, ground, perClass, tellings, border === 'rim' ? right : ''].join(' | ')} |`)
  }
