/** What the chart is expected to look like at points of its own plane, in code values up to gain and offset. */
export interface ChartTemplate {
  readonly count: number
  /** The sample points row by row, evenly spread about the chart's middle. */
  readonly columns: number
  readonly rows: number
  /** Sample points, modules. */
  readonly x: Float64Array
  readonly y: Float64Array
  /** Expected code values, 0 full ink to 1 paper, their sum and that of their squares, and their slopes per module. */
  readonly value: Float64Array
  readonly sum: number
  readonly squares: number
  readonly slopeX: Float64Array
  readonly slopeY: Float64Array
  /** Blur across upright edges and across level ones, modules. */
  readonly blurAcross: number
  readonly blurDown: number
  /** A mask that leaves nothing out. */
  readonly everySample: Uint8Array
  /** What a refinement of it needs, made when first asked for: affine, or projective. */
  solver(affine: boolean): TemplateSolver
}

/** The templates of one blur: `face(n)` of each chart, and `common`, their mean, for when it is not known yet. */
export interface TemplateSet {
  readonly sigmaModules: number
  readonly common: ChartTemplate
  face(face: number): ChartTemplate
}

/**
 * The linear least squares of a template's increments: for each sample its row of the equations (6 or 8 increments of the map times the
 * gain, then gain and offset), and, as long as every sample counts, the projection that turns samples into the solution.
 */
export interface TemplateSolver {
  readonly unknowns: number
  /** Row by row: samples x unknowns. */
  readonly design: Float64Array
  /** Sample by sample: samples x unknowns; null where the equations do not hold. */
  readonly projection: Float64Array | null
}
