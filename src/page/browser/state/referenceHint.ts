import type { ReferenceView, StillView } from '../../api.js'

/** The reference that a still's own name seems to say, "4m-plate.jpg": a hint, never taken without a word. Null where it says none, or several. */
export function referenceHint({ file }: StillView, references: readonly ReferenceView[]): string | null {
  const words = (file.split('/').at(-1) ?? '').toLowerCase().split(/[^\p{L}\p{N}]+/u)
  const said = references.filter(({ name }) => words.includes(name.toLowerCase()))
  return said.length === 1 ? said[0]!.name : null
}
