/** A density for people, px/m: whole from 100 on, one decimal below. */
export function densityText(densityPxPerM: number): string {
  return densityPxPerM >= 100 ? densityPxPerM.toFixed(0) : densityPxPerM.toFixed(1)
}

/** A density beside the limit it is held against, px/m: as `densityText`, with a decimal more wherever rounding would carry it over the limit. */
export function densityAgainst(densityPxPerM: number, limitPxPerM: number): string {
  const reaches = densityPxPerM >= limitPxPerM
  const rounded = densityText(densityPxPerM)
  const texts = [rounded, ...[1, 2, 3, 4].map((decimals) => densityPxPerM.toFixed(decimals))]
  return texts.find((text) => Number(text) >= limitPxPerM === reaches) ?? String(densityPxPerM)
}

/** A distance for people, to the centimetre, no trailing zeros. */
export function metresText(distanceM: number): string {
  return `${Number(distanceM.toFixed(2))} m`
}

/** The name of a grade; a dash where it could not be judged. */
export function gradeNameOf(
  id: string | null,
  grading: { readonly grades: readonly { readonly id: string; readonly name: string }[] },
): string {
  if (id === null) return '-'
  return grading.grades.find((grade) => grade.id === id)?.name ?? id
}
