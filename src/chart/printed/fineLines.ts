import type { ModuleBox, StripArea } from './chartGeometry.js'

const DOT_M = 0.0254 / 600

/**
 * The two periods of the fine lines, metres, the same on every paper: 24 and 48 dots of a 600 dpi printer (1.016 and 2.032 mm), so that
 * lines of 25, 50 and 75 % coverage begin and end on the printer's own grid. This project's convention.
 */
export const LINE_PERIODS_M: readonly [number, number] = [24 * DOT_M, 48 * DOT_M]

/** A level line of ink, modules. */
export interface FineLine extends ModuleBox {
  readonly periodM: number
}

/**
 * The lines of one strip area: the left half of its box at the short period, the right half at the long one. `module` is the module's edge in metres.
 */
export function fineLines({ box, coverage }: StripArea, module: number): FineLine[] {
  const middle = (box.left + box.right) / 2
  const [short, long] = LINE_PERIODS_M
  return [
    ...evenLines({ ...box, right: middle }, coverage, short, module),
    ...evenLines({ ...box, left: middle }, coverage, long, module),
  ]
}

/**
 * Lines of one period over a box, modules: as many whole periods as fit, each line in the middle of its period. `module` is the module's edge in metres.
 */
export function evenLines(box: ModuleBox, coverage: number, periodM: number, module: number): FineLine[] {
  const period = periodM / module
  const count = Math.floor((box.bottom - box.top) / period + 1e-9)
  // What is left over at top and bottom gets ink by the same share, so that the whole area's mean is the coverage.
  const lines: FineLine[] = []
  for (let line = 0; line <= count; line += 1) {
    const top = box.top + line * period
    const room = Math.min(period, box.bottom - top)
    if (room <= 1e-9) break
    const thick = room * coverage
    lines.push({ ...box, top: top + (room - thick) / 2, bottom: top + (room + thick) / 2, periodM })
  }
  return lines
}
