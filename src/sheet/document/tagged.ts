import type { Pen } from './pen.js'

interface TagOptions {
  readonly title?: string
  readonly alt?: string
  readonly actual?: string
  readonly scope?: 'Row' | 'Column'
  /** Left, top, right, bottom, points; for figures. */
  readonly bbox?: readonly [number, number, number, number]
}

/** Draws content as a leaf of the structure tree (a paragraph, a cell, a figure); it must stay on one page. */
export function tagged(pen: Pen, type: string, draw: () => void, options: TagOptions = {}): void {
  const element = pen.doc.struct(type, { ...options })
  pen.parent.add(element)
  element.add(draw)
  element.end()
}

/** Opens an element that holds others (a section, a table, a row) while `build` runs; it may span pages. */
export function within(pen: Pen, type: string, build: () => void, options: TagOptions = {}): void {
  const outer = pen.parent
  const element = pen.doc.struct(type, { ...options })
  outer.add(element)
  pen.parent = element
  build()
  element.end()
  pen.parent = outer
}

/** Draws what is no content: rules, running heads, repeated table heads. Never inside `tagged`. */
export function artifact(
  pen: Pick<Pen, 'doc'>,
  draw: () => void,
  type: 'Layout' | 'Pagination' = 'Layout',
): void {
  pen.doc.markContent('Artifact', { type })
  draw()
  pen.doc.endMarkedContent()
}
