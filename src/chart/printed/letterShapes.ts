import type { Point } from '../../math/point.js'

/** A stroke's middle line, from point to point: 0..1 across and 0..1 down the box that the middles of a character's strokes fill. */
type Stroke = readonly Point[]

/** A line from point to point: x and y in turn. */
function line(...at: readonly number[]): Stroke {
  return Array.from({ length: at.length / 2 }, (_, point): Point => [at[2 * point]!, at[2 * point + 1]!])
}

const BOWL = line(0, 1, 0, 0, 0.75, 0, 1, 0.14, 1, 0.42, 0.75, 0.56, 0, 0.56)

/**
 * This project's own characters: straight strokes of even weight with round ends. Of characters that are taken for one another one at most is here (0 D O Q; 1 I; 2 Z;
 * 5 S; 6 G; 8 B; M W N; U V), so that a wrong one was not read.
 */
export const LETTER_STROKES: Readonly<Record<string, readonly Stroke[]>> = {
  A: [line(0, 1, 0.5, 0, 1, 1), line(0.2, 0.62, 0.8, 0.62)],
  C: [line(1, 0.18, 0.78, 0, 0.22, 0, 0, 0.18, 0, 0.82, 0.22, 1, 0.78, 1, 1, 0.82)],
  E: [line(1, 0, 0, 0, 0, 1, 1, 1), line(0, 0.5, 0.8, 0.5)],
  F: [line(1, 0, 0, 0, 0, 1), line(0, 0.5, 0.8, 0.5)],
  H: [line(0, 0, 0, 1), line(1, 0, 1, 1), line(0, 0.5, 1, 0.5)],
  J: [line(1, 0, 1, 0.82, 0.78, 1, 0.22, 1, 0, 0.82, 0, 0.72)],
  K: [line(0, 0, 0, 1), line(1, 0, 0, 0.58), line(0.3, 0.41, 1, 1)],
  L: [line(0, 0, 0, 1, 1, 1)],
  N: [line(0, 1, 0, 0, 1, 1, 1, 0)],
  P: [BOWL],
  R: [BOWL, line(0.45, 0.56, 1, 1)],
  T: [line(0, 0, 1, 0), line(0.5, 0, 0.5, 1)],
  U: [line(0, 0, 0, 0.82, 0.22, 1, 0.78, 1, 1, 0.82, 1, 0)],
  X: [line(0, 0, 1, 1), line(1, 0, 0, 1)],
  Y: [line(0, 0, 0.5, 0.5, 1, 0), line(0.5, 0.5, 0.5, 1)],
  '3': [
    line(0, 0.18, 0.22, 0, 0.78, 0, 1, 0.16, 1, 0.36, 0.75, 0.5, 0.35, 0.5),
    line(0.75, 0.5, 1, 0.64, 1, 0.84, 0.78, 1, 0.22, 1, 0, 0.82),
  ],
  '4': [line(0.75, 1, 0.75, 0, 0, 0.7, 1, 0.7)],
  '7': [line(0, 0, 1, 0, 0.35, 1)],
}

/** The characters of letter cards. */
export const ALPHABET = Object.keys(LETTER_STROKES).sort().join('')
