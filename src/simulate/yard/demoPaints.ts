import type { BodyPaint } from './sceneBody.js'
import { layeredNoise } from './valueNoise.js'

type Colour = readonly [red: number, green: number, blue: number]

/** Tarred upright boards with a paler door in them, on a wall that runs along y. */
export function boardedWall(doorFromM: number, doorToM: number): BodyPaint {
  return (at, footprintM, out) => {
    const board = Math.floor(at[1] / 0.16)
    const tone = layeredNoise(board * 7.3, at[2] * 0.7, 41, 2, footprintM)
    const gap = Math.abs(at[1] / 0.16 - board - 0.5) > 0.5 - Math.max(0.05, footprintM) ? 0.45 : 1
    const door = at[1] > doorFromM && at[1] < doorToM && at[2] < 2.1
    const frame = !door && at[1] > doorFromM - 0.12 && at[1] < doorToM + 0.12 && at[2] < 2.22
    const base: Colour = frame ? [0.55, 0.54, 0.5] : door ? [0.1, 0.22, 0.24] : [0.075, 0.07, 0.065]
    const stone = at[2] < 0.35 ? 1 : 0
    const level = (0.7 + 0.6 * tone) * (frame ? 1 : gap)
    out.red = stone ? 0.24 * (0.7 + 0.6 * tone) : base[0] * level
    out.green = stone ? 0.23 * (0.7 + 0.6 * tone) : base[1] * level
    out.blue = stone ? 0.21 * (0.7 + 0.6 * tone) : base[2] * level
  }
}

/** A hull painted in two colours that meet at a level, with a pale boot line, a rubbing band under the sheer, runs of rust. */
export function hullPaint(
  bottom: Colour,
  topsides: Colour,
  waterLineM: number,
  bandFromM: number,
): BodyPaint {
  return (at, footprintM, out) => {
    const wear = layeredNoise(at[0] * 1.7 + at[1] * 2.1, at[2] * 2.4, 53, 4, footprintM * 2)
    const runs = layeredNoise((at[0] + at[1]) * 5, at[2] * 0.5, 59, 2, footprintM * 5)
    const boot = Math.abs(at[2] - waterLineM) < 0.035
    const band = at[2] > bandFromM && at[2] < bandFromM + 0.09
    const deck = out.nz > 0.8
    const paint: Colour = deck
      ? [0.42, 0.4, 0.36]
      : boot
        ? [0.7, 0.69, 0.64]
        : band
          ? [0.2, 0.13, 0.08]
          : at[2] < waterLineM
            ? bottom
            : topsides
    const level = 0.82 + 0.36 * (wear - 0.5)
    const rust = !deck && runs > 0.66 ? Math.min(0.5, (runs - 0.66) * 3) : 0
    out.red = paint[0] * level * (1 - 0.4 * rust)
    out.green = paint[1] * level * (1 - 0.65 * rust)
    out.blue = paint[2] * level * (1 - 0.8 * rust)
  }
}

/** A wheelhouse: pale sides with a dark band of windows between two levels, divided every `paneM`. */
export function wheelhousePaint(
  side: Colour,
  windowFromM: number,
  windowToM: number,
  paneM: number,
): BodyPaint {
  return (at, footprintM, out) => {
    const across = Math.abs(out.nx) > 0.5 ? at[1] : at[0]
    const pane = across / paneM - Math.floor(across / paneM)
    const glass =
      Math.abs(out.nz) < 0.5 && at[2] > windowFromM && at[2] < windowToM && pane > 0.1 && pane < 0.9
    const wear = 0.85 + 0.3 * (layeredNoise(at[0] * 3 + at[1], at[2] * 3, 61, 2, footprintM * 3) - 0.5)
    out.red = glass ? 0.03 : side[0] * wear
    out.green = glass ? 0.045 : side[1] * wear
    out.blue = glass ? 0.05 : side[2] * wear
  }
}

/** Rough timber of one colour, its grain upright. */
export function timberPaint(colour: Colour): BodyPaint {
  return (at, footprintM, out) => {
    const grain = 0.75 + 0.5 * layeredNoise((at[0] + at[1]) * 14, at[2] * 2, 67, 2, footprintM * 14)
    out.red = colour[0] * grain
    out.green = colour[1] * grain
    out.blue = colour[2] * grain
  }
}

/** A heap of net: a dark mesh with a hint of its twine's colour. */
export function netPaint(colour: Colour): BodyPaint {
  return (at, footprintM, out) => {
    const folds = layeredNoise(at[0] * 5 + at[2] * 3, at[1] * 5, 71, 3, footprintM * 5)
    const level = 0.35 + 1.1 * (folds - 0.2)
    out.red = colour[0] * level
    out.green = colour[1] * level
    out.blue = colour[2] * level
  }
}
