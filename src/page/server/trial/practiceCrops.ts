import { chartPaper } from '../../../chart/printed/chartPapers.js'
import { PUBLISHED_SIZE, rowBox, rowStrokes } from '../../../chart/printed/letterSheet.js'
import { moduleM } from '../../../chart/printed/chartGeometry.js'
import { loadSharp } from '../../../still/loadSharp.js'

/** A crop to practise on, drawn and not taken: it says nothing that is read later. */
export interface PracticeCrop {
  readonly id: string
  readonly shown: string
  readonly png: Buffer
}

/** What they say, px to a module, and the blur, px: from easy to hard. */
const LOOKS = [
  { shown: 'KTA4XRE', pxPerModule: 20, blurPx: 0.8 },
  { shown: 'P7LUCHN', pxPerModule: 10, blurPx: 1 },
  { shown: 'YF3JEKT', pxPerModule: 6, blurPx: 1.2 },
] as const

/** The same for everybody. */
export async function practiceCrops(): Promise<readonly PracticeCrop[]> {
  const paper = chartPaper('A2')!
  const box = rowBox(paper, PUBLISHED_SIZE, 'full')
  const sharp = await loadSharp({ threads: 1 })
  return Promise.all(
    LOOKS.map(async ({ shown, pxPerModule, blurPx }, index) => {
      const [left, top] = [box.left - 0.5, box.top - 0.5]
      const [width, height] = [box.right + 0.5 - left, box.bottom + 0.5 - top].map(
        (side) => side * pxPerModule,
      )
      const lines = rowStrokes(paper, PUBLISHED_SIZE, 'full', shown).map((stroke) => {
        const points = stroke.map(([x, y]) => `${(x - left) * pxPerModule},${(y - top) * pxPerModule}`)
        return `<polyline points="${points.join(' ')}"/>`
      })
      const strokePx = (PUBLISHED_SIZE.strokeM / moduleM(paper)) * pxPerModule
      const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="${Math.ceil(width!)}" height="${Math.ceil(height!)}"><rect width="100%" height="100%" fill="#d8d8d8"/><g fill="none" stroke="#2c2c2c" stroke-width="${strokePx}" stroke-linecap="round" stroke-linejoin="round">${lines.join('')}</g></svg>`
      const png = await sharp(Buffer.from(drawing)).flatten().blur(blurPx).png().toBuffer()
      return { id: `practice ${index + 1}`, shown, png }
    }),
  )
}
