/** Does `work` with every item, so many at a time, and returns what came of each in the order of the items. Ends at once where one fails. */
export async function mapFew<Item, Result>(
  items: readonly Item[],
  atATime: number,
  work: (item: Item) => Promise<Result>,
): Promise<Result[]> {
  const results = new Array<Result>(items.length)
  let next = 0
  const lane = async (): Promise<void> => {
    for (let index = next++; index < items.length; index = next++) {
      try {
        results[index] = await work(items[index]!)
      } catch (error) {
        next = items.length
        throw error
      }
    }
  }
  await Promise.all(Array.from({ length: atATime }, lane))
  return results
}
