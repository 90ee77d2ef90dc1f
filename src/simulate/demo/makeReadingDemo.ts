import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { chartPaper } from '../../chart/printed/chartPapers.js'
import { drawCards, PUBLISHED_SIZE, type LetterCard } from '../../chart/printed/letterSheet.js'
import { stripSheetBelow } from '../../chart/printed/stripSheet.js'
import { moduleM } from '../../chart/printed/chartGeometry.js'
import { writeWhole } from '../../files/writeWhole.js'
import { seededRandom } from '../../math/random.js'
import type { LetterCards } from '../../walk/schemas/cardsSchema.js'
import type { CameraStation } from '../camera/cameraStation.js'
import { encodeJpeg } from '../camera/encodeJpeg.js'
import { evenImage } from '../camera/linearImage.js'
import { targetPose } from '../camera/targetPose.js'
import { takeStill } from '../camera/virtualCamera.js'
import { along } from '../camera/worldVector.js'
import { carriedChart } from '../walker/carriedChart.js'
import { letterSurface } from '../walker/letterSurface.js'
import { claimDemoFolder } from './claimDemoFolder.js'
import {
  READING_CARDS_A_MARK,
  READING_FIRST_LINE,
  READING_MARKS_M,
  READING_WALK_TEXT,
} from './readingWalkText.js'

const PAPER = chartPaper('A2')!
const SIZE = { width: 640, height: 480 } as const
const PX_PER_RADIAN = 700
const MOUNT_M = 2
const BLUR_SIGMA_PX = 0.55
/** Noise that a camera has in the shade, half of it smoothed away again. */
const EXPOSURE = {
  gain: 1.1,
  readNoiseDn: 2.5,
  shotNoiseDn: 3,
  denoise: { sigmaPx: 0.8, share: 0.4 },
} as const
const JPEG_QUALITY = 82
const SEED = 20260314
const CARDS = 12
/** Cards are carried in turn by so many, so that none goes with certain marks only. */
const CARD_STEP = 7
/** Between the chart and the card below it, metres: fixed by hand. */
const GAP_M = 0.003

const STILLS = READING_MARKS_M.flatMap((distanceM, mark) =>
  Array.from({ length: READING_CARDS_A_MARK }, (_, nth) => ({
    file: `stills/day/${distanceM}m-${nth + 1}.jpg`,
    distanceM,
    card: (CARD_STEP * (mark * READING_CARDS_A_MARK + nth)) % CARDS,
  })),
)

/** How an earlier demonstration of the reading trial is known. */
export const READING_KIND = { firstLine: READING_FIRST_LINE, stills: STILLS.map(({ file }) => file) }

/**
 * Makes a walk with letter cards in `dir`: walk.yaml, cards.json and simulated stills through noise, smoothing and JPEG, all or nothing. An earlier one is replaced.
 * @throws `ProofwalkError` `folder-in-use`, or `cannot-write` where nothing can be made there
 */
export async function makeReadingDemo(dir: string): Promise<{ readonly stillCount: number }> {
  const folder = await claimDemoFolder(dir, READING_KIND)
  try {
    const cards = drawCards(CARDS, seededRandom(SEED))
    const said: LetterCards = {
      format: 'proofwalk-cards/1',
      seed: SEED,
      paper: PAPER.id,
      size: PUBLISHED_SIZE,
      cards,
    }
    await mkdir(join(folder.making, 'stills/day'), { recursive: true })
    await writeWhole(join(folder.making, 'cards.json'), `${JSON.stringify(said, null, 2)}\n`)
    await writeWhole(join(folder.making, 'walk.yaml'), READING_WALK_TEXT)
    for (const [index, { file, distanceM, card }] of STILLS.entries())
      await writeWhole(join(folder.making, file), await take(cards[card]!, distanceM, SEED + index))
    await folder.finish()
  } catch (error) {
    await folder.abandon()
    throw error
  }
  return { stillCount: STILLS.length }
}

/** Chart and card below it, held a little turned, in front of an even wall. */
async function take(card: LetterCard, distanceM: number, seed: number): Promise<Buffer> {
  const random = seededRandom(seed)
  const { width, height } = SIZE
  const lens = { p: 1, pixelsPerRadian: PX_PER_RADIAN, centreX: width / 2, centreY: height / 2 }
  const station: CameraStation = { width, height, lens, mountHeightM: MOUNT_M, tiltRad: 0 }
  const pose = targetPose(station, {
    distanceM,
    heightM: MOUNT_M + 0.5 * PAPER.heightM,
    bearingRad: 0.02 * random.normal(),
    yawRad: 0.03 * random.normal(),
    pitchRad: 0.02 * random.normal(),
    rollRad: 0.01 * random.normal(),
  })
  const below = stripSheetBelow(PAPER) * moduleM(PAPER) + GAP_M
  const sheet = {
    ...pose,
    centre: along(along(pose.centre, pose.right, 0.003 * random.normal()), pose.down, below),
    halfWidthM: PAPER.widthM / 2,
    halfHeightM: PAPER.heightM / 2,
    surface: letterSurface(PAPER, PUBLISHED_SIZE, card),
  }
  const { image } = takeStill(
    {
      station,
      background: evenImage({ left: 0, top: 0, width, height }, 1, 0.2),
      targets: [{ target: { ...carriedChart(PAPER), ...pose } }, { target: sheet }],
      blurSigmaPx: BLUR_SIGMA_PX,
      exposure: EXPOSURE,
    },
    random,
  )
  return encodeJpeg(image, JPEG_QUALITY)
}
