/** The element that must stand out for a grade, metres. */
export interface ToneElement {
  readonly gradeId: string
  readonly elementM: number
}
