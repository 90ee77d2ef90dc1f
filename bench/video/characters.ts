import type { GreyImage } from '../../src/chart/match/greyImage.js'
import { encodeSrgb } from '../../src/simulate/camera/encodeSrgb.js'
import { inverseHomography, mapPoint, type Homography } from '../../src/math/homography.js'
import type { Random } from '../../src/math/random.js'

/** Characters of 5 x 7 strokes: each row a digit to base 32, whose bits are its cells. Those that are easily taken for one another (I, O, Q, 0, 1) are left out. */
const ROWS = (
  'ehhvhhh uhhuhhu ehggghe uhhhhhu vgguggv vgguggg ehgnhhe hhhvhhh 72222ic hikokih ggggggv hrllhhh hhpljhh uhhuggg uhhukih fgge11u ' +
  'v444444 hhhhhhe hhhhha4 hhhllrh hha4ahh hha4444 v1248gv eh168gv eh161he 26aiv22 vgu11he 68guhhe v124888 ehhehhe ehhf12c'
).split(' ')
const CELLS = ROWS.map((rows) => [...rows].map((row) => parseInt(row, 32)))
const CHARACTER = { width: 5, height: 7, pitchX: 7.5, pitchY: 9 } as const

/** Light of a card's paper and of strokes at full contrast; a Michelson contrast c makes strokes of paper (1 - c) / (1 + c). */
const CARD_LIGHT = 0.85
const FULL_CONTRAST = 0.89

/** A card of characters of one stroke and contrast, as many as its cells, drawn by chance. */
export interface CharacterCard {
  readonly strokeM: number
  readonly contrast: number
  readonly columns: number
  readonly rows: number
  readonly characters: readonly number[]
}

export function drawCard(
  { strokeM, contrast, columns, rows }: Omit<CharacterCard, 'characters'>,
  random: Random,
): CharacterCard {
  const characters = Array.from({ length: columns * rows }, () => Math.floor(random.uniform() * CELLS.length))
  return { strokeM, contrast: Math.min(contrast, FULL_CONTRAST), columns, rows, characters }
}

/** The card's size, metres. */
export const cardSize = ({ strokeM, columns, rows }: CharacterCard) => ({
  widthM: strokeM * CHARACTER.pitchX * columns,
  heightM: strokeM * CHARACTER.pitchY * rows,
})

/** Linear light of a card at a place, metres from its top left. */
export function cardLight(
  { strokeM, contrast, columns, rows, characters }: CharacterCard,
  x: number,
  y: number,
) {
  const [column, row] = [
    Math.floor(x / (strokeM * CHARACTER.pitchX)),
    Math.floor(y / (strokeM * CHARACTER.pitchY)),
  ]
  if (column < 0 || row < 0 || column >= columns || row >= rows) return CARD_LIGHT
  const which = characters[row * columns + column]!
  const dark = isStroke(
    which,
    x / strokeM - CHARACTER.pitchX * column - 1.25,
    y / strokeM - CHARACTER.pitchY * row - 1,
  )
  return dark ? (CARD_LIGHT * (1 - contrast)) / (1 + contrast) : CARD_LIGHT
}

function isStroke(which: number, x: number, y: number): boolean {
  const [i, j] = [Math.floor(x), Math.floor(y)]
  return i >= 0 && j >= 0 && i < 5 && j < 7 && ((CELLS[which]![j]! >> (4 - i)) & 1) === 1
}

const SHIFTS_PX = [-0.6, 0, 0.6]
const FINE = 6

/**
 * The share of a card's characters that a matched filter reads: of all characters, seen through the optics, the one whose picture goes best with the pixels, shifted by
 * half a pixel or so. `map` takes metres from the card's top left to px; `blurPx` is the optics' Gaussian in px of this picture, its pixel's aperture `aperturePx`.
 */
export function shareRead(
  image: GreyImage,
  card: CharacterCard,
  map: Homography,
  blurPx: number,
  aperturePx: number,
): number {
  const back = inverseHomography(map)!
  const middle = mapPoint(map, card.strokeM * 8, card.strokeM * 8)
  const beside = mapPoint(map, card.strokeM * 9, card.strokeM * 8)
  const strokePx = Math.hypot(beside[0] - middle[0], beside[1] - middle[1])
  const looks = CELLS.map((_, which) =>
    look(which, Math.sqrt(blurPx ** 2 + aperturePx ** 2 / 12) / strokePx, card),
  )
  let read = 0
  for (const [at, which] of card.characters.entries()) {
    const left = card.strokeM * (CHARACTER.pitchX * (at % card.columns) + 0.25)
    const top = card.strokeM * CHARACTER.pitchY * Math.floor(at / card.columns)
    if (likest(image, map, back, left, top, card.strokeM, looks) === which) read += 1
  }
  return read / card.characters.length
}

const [LOOK_WIDTH, LOOK_HEIGHT] = [7 * FINE, 9 * FINE]

/** A character with a stroke of ground around, blurred, in code values: `FINE` samples a stroke. */
function look(which: number, sigmaStrokes: number, { contrast }: CharacterCard): Float64Array {
  const ink = new Float64Array(LOOK_WIDTH * LOOK_HEIGHT)
  for (let y = 0; y < LOOK_HEIGHT; y += 1)
    for (let x = 0; x < LOOK_WIDTH; x += 1)
      ink[y * LOOK_WIDTH + x] = isStroke(which, (x + 0.5) / FINE - 1, (y + 0.5) / FINE - 1) ? 1 : 0
  const reach = Math.ceil(3.5 * sigmaStrokes * FINE)
  const weights = Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-0.5 * ((k - reach) / FINE / sigmaStrokes) ** 2),
  )
  const sum = weights.reduce((a, b) => a + b, 0)
  const pass = (from: Float64Array, size: number, step: number) =>
    from.map((_, at) => {
      const place = Math.floor(at / step) % size
      let total = 0
      for (let k = -reach; k <= reach; k += 1)
        if (place + k >= 0 && place + k < size) total += weights[k + reach]! * from[at + k * step]!
      return total / sum
    })
  const dark = (1 - contrast) / (1 + contrast)
  return pass(pass(ink, LOOK_WIDTH, 1), LOOK_HEIGHT, LOOK_WIDTH).map((share) =>
    encodeSrgb(0.7 * (1 - share * (1 - dark))),
  )
}

/** The character whose look goes best with the pixels of the cell at (left, top), metres. */
function likest(
  image: GreyImage,
  map: Homography,
  back: Homography,
  left: number,
  top: number,
  strokeM: number,
  looks: readonly Float64Array[],
): number {
  const corners = [0, 7].flatMap((x) =>
    [0, 9].map((y) => mapPoint(map, left + x * strokeM, top + y * strokeM)),
  )
  const [x0, x1] = [
    Math.ceil(Math.min(...corners.map(([x]) => x))),
    Math.floor(Math.max(...corners.map(([x]) => x))),
  ]
  const [y0, y1] = [
    Math.ceil(Math.min(...corners.map(([, y]) => y))),
    Math.floor(Math.max(...corners.map(([, y]) => y))),
  ]
  let best = -2
  let found = -1
  for (const dy of SHIFTS_PX)
    for (const dx of SHIFTS_PX) {
      const [codes, places]: [number[], number[]] = [[], []]
      for (let y = Math.max(0, y0); y < Math.min(image.height, y1); y += 1)
        for (let x = Math.max(0, x0); x < Math.min(image.width, x1); x += 1) {
          const [u, v] = mapPoint(back, x + 0.5 + dx, y + 0.5 + dy)
          const [i, j] = [Math.floor(((u - left) / strokeM) * FINE), Math.floor(((v - top) / strokeM) * FINE)]
          if (i < 0 || j < 0 || i >= LOOK_WIDTH || j >= LOOK_HEIGHT) continue
          codes.push(image.data[y * image.width + x]!)
          places.push(j * LOOK_WIDTH + i)
        }
      for (const [which, one] of looks.entries()) {
        const likeness = correlation(codes, places, one)
        if (likeness > best) [best, found] = [likeness, which]
      }
    }
  return found
}

/** Of code values and a look's, at its samples. */
function correlation(codes: readonly number[], places: readonly number[], of: Float64Array): number {
  let [a, b, aa, bb, ab] = [0, 0, 0, 0, 0]
  const n = codes.length
  for (let k = 0; k < n; k += 1) {
    const [x, y] = [codes[k]!, of[places[k]!]!]
    a += x
    b += y
    aa += x * x
    bb += y * y
    ab += x * y
  }
  return (ab - (a * b) / n) / Math.sqrt(Math.max(1e-9, (aa - (a * a) / n) * (bb - (b * b) / n)))
}
