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
 * The lines of one strip area: the left half of its box at the short period, the right half at the long one, as many whole periods as fit;
 * each line stands in the middle of its period. `module` is the module's edge in metres.
 */
export function fineLines(area: StripArea, module: number): FineLine[] {
  const middle = (area.box.left + area.box.right) / 2
  return LINE_PERIODS_M.flatMap((periodM, index) => {
    const period = periodM / module
    const left = index === 0 ? area.box.left : middle
    const right = index === 0 ? middle : area.box.right
    const height = area.box.bottom - area.box.top
    const count = Math.floor(height / period + 1e-9)
    // What is left over at top and bottom gets ink by the same share, so that the whole area's mean is the coverage.
    const lines: FineLine[] = []
    for (let line = 0; line <= count; line += 1) {
      const top = area.box.top + line * period
      const room = Math.min(period, area.box.bottom - top)
      if (room <= 1e-9) break
      const thick = room * area.coverage
      lines.push({ left, right, top: top + (room - thick) / 2, bottom: top + (room + thick) / 2, periodM })
    }
    return lines
  })
}
