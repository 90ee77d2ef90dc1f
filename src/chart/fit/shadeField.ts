import { FIELD } from '../printed/chartGeometry.js'
import type { ChartScene } from './chartScene.js'
import { modelMap } from './chartParameters.js'
import { linearFromCode } from '../../math/srgb.js'
import { inverseHomography, mapPoint } from '../../math/homography.js'

/** Places where the light is read, half a module apart, and how far around each, modules. */
const PER_MODULE = 2
const AROUND = 0.75
const COLUMNS = FIELD.width * PER_MODULE + 1
const ROWS = FIELD.height * PER_MODULE + 1
/** What is seen must follow the chart to this squared cosine, else something lies over it or a shadow's own edge runs through. */
const LEAST_LIKENESS = 0.93
const LEAST_PIXELS = 6
/** Between places whose light differs by more than this factor nothing is read: a shadow's edge runs there. */
const MOST_STEP = 1.15

/**
 * Reads how the light falls on the chart against the even slopes the model takes, from the ratio of what is seen to what the model at
 * `parameters` gives, every half module of the sheet, and writes it to the scene's `shades`: half a shadow, a lamp's spot. Where
 * the picture does not follow the chart, the light of the places around it counts; where it jumps, pixels are blocked. False where it cannot be told.
 */
export function readShades(scene: ChartScene, parameters: Float64Array): boolean {
  const back = inverseHomography(modelMap(parameters))
  if (back === null) return false
  const { x, y, code, count } = scene.pixels
  const nodes = COLUMNS * ROWS
  const [both, model, seen] = [new Float64Array(nodes), new Float64Array(nodes), new Float64Array(nodes)]
  const pixels = new Int32Array(nodes)
  const us = new Float64Array(count)
  const vs = new Float64Array(count)
  scene.set(parameters)
  for (let at = 0; at < count; at += 1) {
    const [u, v] = mapPoint(back, x[at]!, y[at]!)
    us[at] = u * PER_MODULE
    vs[at] = v * PER_MODULE
    const light = linearFromCode(code[at]!)
    const even = scene.evenLight(parameters, at)
    const reach = AROUND * PER_MODULE
    for (let j = Math.max(0, Math.ceil(vs[at]! - reach)); j <= Math.min(ROWS - 1, vs[at]! + reach); j += 1)
      for (
        let i = Math.max(0, Math.ceil(us[at]! - reach));
        i <= Math.min(COLUMNS - 1, us[at]! + reach);
        i += 1
      ) {
        const node = j * COLUMNS + i
        both[node]! += light * even
        model[node]! += even * even
        seen[node]! += light * light
        pixels[node]! += 1
      }
  }
  const ratios = Float64Array.from(both, (product, node) =>
    pixels[node]! >= LEAST_PIXELS && product ** 2 > LEAST_LIKENESS * model[node]! * seen[node]!
      ? product / model[node]!
      : NaN,
  )
  if (!fillFromAround(ratios)) return false
  for (let at = 0; at < count; at += 1) {
    const i = Math.min(COLUMNS - 2, Math.max(0, Math.floor(us[at]!)))
    const j = Math.min(ROWS - 2, Math.max(0, Math.floor(vs[at]!)))
    const [s, t] = [us[at]! - i, vs[at]! - j]
    const upper = j * COLUMNS + i
    const around = [upper, upper + 1, upper + COLUMNS, upper + COLUMNS + 1].map((node) => ratios[node]!)
    scene.blocked[at] = Math.max(...around) > MOST_STEP * Math.min(...around) ? 1 : 0
    scene.shades[at] =
      (1 - t) * ((1 - s) * ratios[upper]! + s * ratios[upper + 1]!) +
      t * ((1 - s) * ratios[upper + COLUMNS]! + s * ratios[upper + COLUMNS + 1]!)
  }
  return true
}

/** Gives places without a value the mean of their neighbours, again and again; false where none has one. */
function fillFromAround(ratios: Float64Array): boolean {
  for (let round = 0; round < COLUMNS && ratios.some(Number.isNaN); round += 1) {
    const before = ratios.slice()
    for (let node = 0; node < ratios.length; node += 1) {
      if (!Number.isNaN(before[node]!)) continue
      const [i, j] = [node % COLUMNS, Math.floor(node / COLUMNS)]
      const around = [
        i > 0 ? before[node - 1]! : NaN,
        i < COLUMNS - 1 ? before[node + 1]! : NaN,
        j > 0 ? before[node - COLUMNS]! : NaN,
        j < ROWS - 1 ? before[node + COLUMNS]! : NaN,
      ].filter((value) => !Number.isNaN(value))
      if (around.length > 0) ratios[node] = around.reduce((sum, value) => sum + value, 0) / around.length
    }
  }
  return !ratios.some(Number.isNaN)
}
