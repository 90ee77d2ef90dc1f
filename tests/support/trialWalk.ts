import { mkdir, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { moduleM } from '../../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../../src/chart/printed/chartPapers.js'
import { drawCards, PUBLISHED_SIZE, type LetterCard } from '../../src/chart/printed/letterSheet.js'
import { seededRandom } from '../../src/math/random.js'
import type { CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { evenImage } from '../../src/simulate/camera/linearImage.js'
import { paintTarget } from '../../src/simulate/camera/paintTarget.js'
import { targetPose } from '../../src/simulate/camera/targetPose.js'
import { along } from '../../src/simulate/camera/worldVector.js'
import { carriedChart } from '../../src/simulate/walker/carriedChart.js'
import { letterSurface } from '../../src/simulate/walker/letterSurface.js'
import { coded, sense } from './stripStill.js'

const paper = chartPaper('A2')!
const SIZE = { width: 880, height: 1200 } as const
const PX_PER_RADIAN = 2600

/** A walk with letter cards: its cards, and which of them each still shows. */
export interface TrialWalk {
  readonly cards: readonly LetterCard[]
  readonly shown: ReadonlyMap<string, LetterCard>
}

/** Makes a walk of painted stills by day with a letter card under the chart: so many cards at each mark, carried in turn. */
export async function makeTrialWalk(
  dir: string,
  marksM: readonly number[],
  cardsAMark: number,
): Promise<TrialWalk> {
  const cards = drawCards(6, seededRandom(11))
  const shown = new Map<string, LetterCard>()
  await mkdir(join(dir, 'stills/day'), { recursive: true })
  for (const [mark, distanceM] of marksM.entries())
    for (let nth = 0; nth < cardsAMark; nth += 1) {
      const card = cards[(mark * cardsAMark + nth) % cards.length]!
      const file = `stills/day/${distanceM}m-${nth + 1}.png`
      shown.set(file, card)
      await writeFile(join(dir, file), await takeStill(card, distanceM, mark * 10 + nth))
    }
  const said = { format: 'proofwalk-cards/1', seed: 11, paper: paper.id, size: PUBLISHED_SIZE, cards }
  await writeFile(join(dir, 'cards.json'), JSON.stringify(said))
  await writeFile(join(dir, 'walk.yaml'), WALK)
  return { cards, shown }
}

const WALK = `site: Invented slipway
date: 2026-03-14
simulated: true
camera: { name: Slipway camera (invented) }
references:
  card: { letters: cards.json }
lights: [day]
`

async function takeStill(card: LetterCard, distanceM: number, seed: number): Promise<Buffer> {
  const { width, height } = SIZE
  const lens = { p: 1, pixelsPerRadian: PX_PER_RADIAN, centreX: width / 2, centreY: height / 2 }
  const station: CameraStation = { width, height, lens, mountHeightM: 2, tiltRad: 0 }
  const turns = { yawRad: 0.02, pitchRad: 0.02, rollRad: 0.01 }
  const heightM = 2 + 0.5 * paper.heightM
  const pose = targetPose(station, { distanceM, heightM, bearingRad: 0, ...turns })
  const light = evenImage({ left: 0, top: 0, width, height }, 1, 0.2)
  const options = { perPixel: 3, blurSigmaPx: 0.6 }
  paintTarget(light, station, { ...carriedChart(paper), ...pose }, options)
  const below = Math.max(10 * moduleM(paper), paper.heightM) + 0.003
  const sheet = {
    ...pose,
    centre: along(along(pose.centre, pose.right, 0.004), pose.down, below),
    halfWidthM: paper.widthM / 2,
    halfHeightM: paper.heightM / 2,
    surface: letterSurface(paper, PUBLISHED_SIZE, card),
  }
  paintTarget(light, station, sheet, options)
  const { data } = coded(sense(light, { electrons: 4000, gain: 1.1, seed }))
  return sharp(Buffer.from(Uint8Array.from(data)), { raw: { width, height, channels: 1 } })
    .withExif({ IFD0: { ImageDescription: `card ${card.full} ${card.faint}` } })
    .png()
    .toBuffer()
}
