import { expect } from 'vitest'

/** How far a value may lie from the expected one: absolute or relative, and why that far. */
export type Tolerance = { readonly abs: number } | { readonly rel: number }

/** Fails unless `actual` is finite and within the named tolerance of `expected`. */
export function expectNear(actual: number, expected: number, tolerance: Tolerance, why = ''): void {
  const allowed = 'abs' in tolerance ? tolerance.abs : Math.abs(expected) * tolerance.rel
  const off = Math.abs(actual - expected)
  expect(
    Number.isFinite(actual) && off <= allowed,
    `${actual} is ${off} from ${expected}, allowed ${allowed} ${why}`,
  ).toBe(true)
}
