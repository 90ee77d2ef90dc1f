/** Stands in the document's properties where a walk gives no date; it is printed nowhere. */
const NO_DATE = '2000-01-01'

/** The walk's date as the document's date, at noon UTC so that it is the same day nearly everywhere. No clock is read. */
export function walkDate(isoDate: string): Date {
  const day = /^\d{4}-\d{2}-\d{2}/.exec(isoDate)?.[0] ?? NO_DATE
  const date = new Date(`${day}T12:00:00Z`)
  return Number.isNaN(date.getTime()) ? new Date(`${NO_DATE}T12:00:00Z`) : date
}
