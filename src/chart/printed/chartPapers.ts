/** A sheet of paper the chart is printed on, lying (wider than high), metres. */
export interface ChartPaper {
  readonly id: string
  /** As printed on the chart and shown to people. */
  readonly name: string
  /** What to order it on where A sizes are not sold: it is printed whole on that at true scale. */
  readonly inches: string
  readonly widthM: number
  readonly heightM: number
  /** Which of the chart's eight faces the sheet carries, 0..7: see `chartFace`. */
  readonly face: number
}

/**
 * The papers the chart is made for. A sizes: ISO 216:2007, table 1. Letter and Tabloid: ANSI/ASME Y14.1, sizes A (8.5 x 11 in) and
 * B (11 x 17 in), 1 in = 25.4 mm. The faces are this project's convention; papers that are easily taken for one another (A4 and Letter,
 * A3 and Tabloid, neighbours in the A series) differ in two features at least.
 */
export const CHART_PAPERS: readonly ChartPaper[] = [
  { id: 'A5', name: 'A5', inches: '8.5 x 11 in', widthM: 0.21, heightM: 0.148, face: 3 },
  { id: 'A4', name: 'A4', inches: '11 x 17 in', widthM: 0.297, heightM: 0.21, face: 6 },
  { id: 'A3', name: 'A3', inches: '12 x 18 in', widthM: 0.42, heightM: 0.297, face: 0 },
  { id: 'A2', name: 'A2', inches: '18 x 24 in', widthM: 0.594, heightM: 0.42, face: 5 },
  { id: 'A1', name: 'A1', inches: '24 x 36 in', widthM: 0.841, heightM: 0.594, face: 2 },
  { id: 'A0', name: 'A0', inches: '36 x 48 in', widthM: 1.189, heightM: 0.841, face: 4 },
  { id: 'Letter', name: 'Letter', inches: '8.5 x 11 in', widthM: 0.2794, heightM: 0.2159, face: 1 },
  { id: 'Tabloid', name: 'Tabloid', inches: '11 x 17 in', widthM: 0.4318, heightM: 0.2794, face: 7 },
]

/** The paper of that id, whatever its case; undefined where there is none. */
export function chartPaper(id: string): ChartPaper | undefined {
  return CHART_PAPERS.find((paper) => paper.id.toLowerCase() === id.trim().toLowerCase())
}
