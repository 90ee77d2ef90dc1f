/** How the distances of a walk are measured. */
export type MeasuredWith = 'tape' | 'laser' | 'wheel' | 'paces'

/**
 * What each way is good for out of doors, half-width of a rectangular distribution: this project's convention.
 * Whoever knows better writes it into walk.yaml.
 */
export const measuringTools: Readonly<
  Record<MeasuredWith, { readonly tolerance: string; readonly words: string }>
> = {
  tape: { tolerance: '0.05 m', words: 'taped' },
  laser: { tolerance: '0.02 m', words: 'measured by laser' },
  wheel: { tolerance: '0.2 m', words: 'measured with a wheel' },
  paces: { tolerance: '1 m', words: 'paced' },
}
