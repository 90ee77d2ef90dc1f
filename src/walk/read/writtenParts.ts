/** An item of a list as it was written, with its place. */
export interface Row {
  readonly index: number
  readonly group: Record<string, unknown>
}

/** The items of a list of groups; what is none counts as an empty one. */
export function groupsOf(value: unknown): Row[] {
  return listOf(value).map((one, index) => ({ index, group: groupOf(one) }))
}

/** The items of a list of texts; what is none counts as empty. */
export function textsOf(value: unknown): string[] {
  return listOf(value).map((one) => (typeof one === 'string' ? one : ''))
}

/** A list, or an empty one where none is written. */
export function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : []
}

/** A group of keys, or an empty one where none is written. */
export function groupOf(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
}
