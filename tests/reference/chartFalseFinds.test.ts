import { existsSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { decodeGrey } from '../support/chartStill.js'
import { findChart } from '../support/findChart.js'

// Pictures without our chart from Debian packages (opencv-doc 4.6.0, python3-skimage 0.19.3), the likeliest to be taken for it: calibration
// boards, printed square markers, bar codes, a puzzle grid, boxes, facades, text. Read where they are installed, never copied.
const data = '/usr/share/doc/opencv-doc/examples/data/'
const html = '/usr/share/doc/opencv-doc/opencv4/html/'
const skimage = '/usr/lib/python3/dist-packages/skimage/data/'
const pictures = [
  ...[
    'left01.jpg',
    'left09.jpg',
    'board.jpg',
    'sudoku.png',
    'box_in_scene.png',
    'home.jpg',
    'building.jpg',
  ].map((name) => data + name),
  ...['singlemarkersoriginal.jpg', 'gbmarkersaxis.jpg', '4_barcodes.jpg', 'fileListImageUnDist.jpg'].map(
    (name) => html + name,
  ),
  ...['page.png', 'text.png', 'brick.png', 'camera.png', 'coins.png'].map((name) => skimage + name),
].filter(existsSync)

describe.skipIf(pictures.length === 0)('real photographs without a chart', () => {
  for (const picture of pictures)
    it(`hold none: ${picture.split('/').at(-1)}`, async () => {
      const outcome = findChart(await decodeGrey(picture))
      expect(outcome.ok ? 'a chart' : outcome.code).toBe('no-chart')
    })
})
