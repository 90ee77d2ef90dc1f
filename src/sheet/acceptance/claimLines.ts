/** A promise in the buyer's words takes so many lines at most: over 700 characters. This project's convention. */
export const MOST_ASKED_LINES = 14
