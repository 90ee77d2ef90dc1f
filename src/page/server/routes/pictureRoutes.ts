import type { Quad } from '../../../math/point.js'
import { orderCorners } from '../../../measure/density/cornerSet.js'
import { regionNeeded } from '../../../measure/regionNeeded.js'
import { loadSharp } from '../../../still/loadSharp.js'
import { listedStill, openedStill, type PageContext } from './pageContext.js'
import { straightView } from '../pictures/straightView.js'
import { refusal, type Reply } from '../reply/reply.js'
import { stillTile } from '../pictures/stillTile.js'
import { pageSays } from '../../sentences.js'

const GONE = refusal(404, pageSays['still-gone']())

/** A still's stamp must be the one asked for: the page must not show pixels of another file than it thinks. */
function isCurrent(context: PageContext, query: URLSearchParams): boolean {
  const listed = listedStill(context, query.get('file') ?? '')
  return listed.ok && listed.value.stamp === query.get('stamp')
}

/** GET a thumb. */
export async function thumbRoute(context: PageContext, query: URLSearchParams): Promise<Reply> {
  if (!isCurrent(context, query)) return GONE
  const size = whole(query.get('size') ?? '240', 1024)
  if (size === null || size < 16) return refusal(400, pageSays['wrong-size']())
  const still = { file: query.get('file')!, stamp: query.get('stamp')! }
  const bytes = await context.thumbs.of(still, size)
  if (bytes === null) return refusal(422, pageSays['no-picture'](), still.file)
  return { kind: 'bytes', type: 'image/jpeg', bytes }
}

/** GET a tile. */
export async function tileRoute(context: PageContext, query: URLSearchParams): Promise<Reply> {
  if (!isCurrent(context, query)) return GONE
  const level = whole(query.get('level'), 16)
  const x = whole(query.get('x'), 65_535)
  const y = whole(query.get('y'), 65_535)
  if (level === null || x === null || y === null) return refusal(400, pageSays['wrong-tile']())
  const file = query.get('file')!
  void context.walk.heads.read({ file, stamp: query.get('stamp')! }) // it is looked at: its head is needed first
  const held = await openedStill(context, file)
  if (!held.ok) return refusal(422, held, file)
  return (await stillTile(held.value, { level, x, y })) ?? refusal(404, pageSays['no-such-tile']())
}

/** GET the reference seen straight on. */
export async function rectifiedRoute(context: PageContext, query: URLSearchParams): Promise<Reply> {
  if (!isCurrent(context, query)) return GONE
  const reference = context.walk.reading().walk.references.find(({ name }) => name === query.get('reference'))
  const numbers = (query.get('points') ?? '').split(',').map(Number)
  if (reference?.reference.kind !== 'rectangle' || numbers.length !== 8) {
    return refusal(400, pageSays['wrong-rectangle']())
  }
  const held = await openedStill(context, query.get('file')!)
  if (!held.ok) return refusal(422, held, query.get('file')!)
  const given = [0, 2, 4, 6].map((i) => [numbers[i]!, numbers[i + 1]!]) as unknown as Quad
  const { width, height } = held.value.still
  const ordered = orderCorners(given, width, height)
  if (!ordered.ok) return refusal(422, ordered)
  const { corners } = ordered.value
  const colours = (await held.value.whole()).colours(regionNeeded(corners, width, height))
  const { widthM, heightM } = reference.reference
  const view = straightView(colours, corners, widthM, heightM)
  if (view === null) return refusal(422, pageSays['corners-not-convex']())
  const sharp = await loadSharp({ threads: 1 })
  const raw = { width: view.width, height: view.height, channels: 3 as const }
  const bytes = await sharp(view.data, { raw }).png({ compressionLevel: 1 }).toBuffer()
  return { kind: 'bytes', type: 'image/png', bytes }
}

function whole(text: string | null, most: number): number | null {
  if (text === null || !/^\d{1,6}$/.test(text)) return null
  const value = Number(text)
  return value <= most ? value : null
}
