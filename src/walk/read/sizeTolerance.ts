/** Half-width of a size nobody gave a tolerance for, metres: this project's convention. */
export const DEFAULT_SIZE_TOLERANCE_M = 0.001
