import { groupBy } from '../../math/groupBy.js'

/** So many of one kind are told one by one: this project's convention. */
const MOST_OF_A_KIND = 20

/** A line for each of some things, in their order; of a kind there are too many of, one line for the first and how many more there are. */
export function linesOfKinds<Item>(
  items: readonly Item[],
  kindOf: (item: Item) => string,
  lineOf: (item: Item) => string,
): string[] {
  const kinds = groupBy(items, kindOf)
  const isTold = (item: Item): boolean => {
    const kind = kinds.get(kindOf(item))!
    return kind.length <= MOST_OF_A_KIND || kind[0] === item
  }
  return items.filter(isTold).map((item) => {
    const { length } = kinds.get(kindOf(item))!
    return length <= MOST_OF_A_KIND ? lineOf(item) : `${lineOf(item)} (and ${length - 1} more of this kind)`
  })
}
