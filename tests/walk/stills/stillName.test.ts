import { describe, expect, test } from 'vitest'
import { distanceInName, pictureByEnding } from '../../../src/walk/stills/stillName.js'
import { expectNear } from '../../nearly.js'

describe('the distance in the name of a still', () => {
  test.each([
    ['15m.jpg', 15],
    ['15M.JPG', 15],
    ['45ft-2.png', 13.716],
    ['12.5 m b.webp', 12.5],
    ['12,5m.jpg', 12.5],
    ['5\'6".jpg', 1.6764],
    ["5'6''-b.jpg", 1.6764],
    ['5ft6in.jpg', 1.6764],
    ['5 ft 6 in from the left.jpg', 1.6764],
    ["30' b.jpg", 9.144],
    ['16m_night.jpg', 16],
    ['16m-2026-03-14.jpg', 16],
    ['16 m 2.jpg', 16],
    ['15m (2).jpg', 15],
    ['45 ft (13.72 m).jpg', 13.716],
    ['80cm.jpg', 0.8],
    ['16m.old.jpg', 16],
    ['20 feet.jpg', 6.096],
    ['20feet-2 in the rain.jpg', 6.096],
    ['24 inches b.jpg', 0.6096],
    ['5 feet 6 inches.jpg', 1.6764],
    ['16metres.jpg', 16],
  ])('%s is %d m', (name, distanceM) => {
    const outcome = distanceInName(name)
    expectNear(outcome.ok ? outcome.value : Number.NaN, distanceM, { rel: 3e-16 }, 'one rounding')
  })

  test.each([
    ['16.jpg', 'rename it to 16m.jpg or 16ft.jpg'],
    ['16.5.jpg', 'rename it to 16.5m.jpg or 16.5ft.jpg'],
    ['16-a.JPG', 'rename it to 16m.JPG or 16ft.JPG'],
    ['export-0001.jpg', 'begin its name with the distance, such as 16m.jpg'],
    ['15min.jpg', 'rename it to 15m.jpg'],
    ['15mètres.jpg', 'rename it to 15m.jpg'],
    ['1m50.jpg', 'rename it to 1m-50.jpg if 1m is meant'],
    ['5ft6.jpg', 'could be read in two ways'],
    ["5'6.jpg", 'could be read in two ways'],
    ['45 ft 2.jpg', 'rename it to 45ft-2.jpg'],
    ['45 ft (13.9 m).jpg', 'disagree'],
    ['1,500m.jpg', '1.500 or 1500'],
    ['-5m.jpg', 'begin its name with the distance'],
  ])('%s is not guessed', (name, says) => {
    const outcome = distanceInName(name)
    expect(outcome.ok ? `read as ${outcome.value}` : outcome.message).toContain(says)
  })
})

describe('the ending of a still', () => {
  test.each(['a.jpg', 'a.JPEG', 'a.png', 'a.WebP', 'a.tif', 'a.TIFF', 'a.avif'])(
    '%s is a picture',
    (name) => {
      expect(pictureByEnding(name).ok).toBe(true)
    },
  )

  test.each([
    ['clip.mp4', 'ffmpeg -i "clip.mp4" -ss 12 -frames:v 1 "clip.png"'],
    ['clip.MOV', 'not a screenshot'],
    ['16m.HEIC', 'export it as JPEG'],
    ['16m.dng', 'raw sensor data'],
    ['16m', 'has no ending'],
    ['16m.bmp', 'ends in .bmp'],
    ['notes.txt', 'ends in .txt'],
  ])('%s is none, and told so', (name, says) => {
    const outcome = pictureByEnding(name)
    expect(outcome.ok ? 'a picture' : outcome.message).toContain(says)
  })
})
