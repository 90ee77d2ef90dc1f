import * as z from 'zod'

/**
 * Read leniently, written strictly: a reader keeps keys it does not know, for another release may have written them; the type has only those it knows, so that
 * nothing else is written. A field added since the first release has a default, which a reader takes where it is not there.
 */
export const group = z.looseObject as unknown as typeof z.strictObject

export const number = z.number()
export const nullable = number.nullable()
export const addedNumber = nullable.default(null)
export const addedWords = z.string().nullable().default(null)
export const sha256 = z.string().regex(/^[0-9a-f]{64}$/)
export const point = z.tuple([number, number])
export const estimate = group({ value: number, low: number, high: number })
/** Without a low end where it is an upper bound. */
export const maybeBound = group({ value: number, low: nullable, high: number })
export const verdict = z.enum(['met', 'not met', 'not shown'])
export const words = z.string().nullable()
export const basis = z.enum(['pixels', 'detail'])
export const numbers = <Key extends string>(...keys: readonly Key[]) =>
  group(Object.fromEntries(keys.map((key) => [key, number])) as Record<Key, typeof number>)
