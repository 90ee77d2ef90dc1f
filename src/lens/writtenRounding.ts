/** Numbers are not written finer than this: closer is the rounding of arithmetic, not of a data sheet. */
const FINEST = 1e-6

/** Half a unit of the last digit a number was written with: how far rounding may have moved it. 52 gives 0.5, 52.3 gives 0.05. */
export function writtenRounding(value: number): number {
  const digits = /^[^.e]*(?:\.(\d+))?(?:e([+-]?\d+))?$/.exec(String(value))
  const decimals = (digits?.[1]?.length ?? 0) - Number(digits?.[2] ?? 0)
  return Math.max(FINEST, 0.5 * 10 ** -decimals)
}
