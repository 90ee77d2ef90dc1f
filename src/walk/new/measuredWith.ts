/** How the distances of a walk are measured. */
export type MeasuredWith = 'tape' | 'laser' | 'wheel' | 'paces'

/**
 * What each way is good for out of doors, half-width of a rectangular distribution: this project's convention.
 * Whoever knows better writes it into walk.yaml.
 */
export const measuringTools: Readonly<
  Record<
    MeasuredWith,
    { readonly tolerance: string; readonly toleranceInFeet: string; readonly words: string }
  >
> = {
  tape: { tolerance: '0.05 m', toleranceInFeet: '2 in', words: 'measured with a tape measure' },
  laser: { tolerance: '0.02 m', toleranceInFeet: '0.8 in', words: 'measured by laser' },
  wheel: { tolerance: '0.2 m', toleranceInFeet: '8 in', words: 'measured with a wheel' },
  paces: { tolerance: '1 m', toleranceInFeet: '3.3 ft', words: 'paced' },
}
