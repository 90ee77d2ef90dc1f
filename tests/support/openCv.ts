import { type CvMat, withOpenCv as ours } from '../../src/scene/openCv.js'

/** The part of OpenCV 4.3 (package opencv-wasm) that the tests hold this project's own code against; as documented on docs.opencv.org. */
export interface OpenCv {
  readonly CV_8UC1: number
  readonly CV_8UC3: number
  readonly CV_32FC1: number
  readonly CV_32FC2: number
  readonly CV_32SC2: number
  readonly CV_32S: number
  readonly CV_64F: number
  readonly CV_64FC1: number
  readonly CV_64FC2: number
  readonly DECOMP_SVD: number
  readonly DFT_COMPLEX_OUTPUT: number
  readonly INTER_AREA: number
  readonly INTER_LINEAR: number
  readonly BORDER_REPLICATE: number
  readonly WARP_INVERSE_MAP: number
  readonly Mat: new () => CvMat
  readonly Size: new (width: number, height: number) => object
  matFromArray(rows: number, cols: number, type: number, values: ArrayLike<number>): CvMat
  getPerspectiveTransform(from: CvMat, to: CvMat, method: number): CvMat
  findHomography(from: CvMat, to: CvMat): CvMat
  perspectiveTransform(from: CvMat, to: CvMat, map: CvMat): void
  warpPerspective(from: CvMat, to: CvMat, map: CvMat, size: object, flags: number, border: number): void
  remap(from: CvMat, to: CvMat, x: CvMat, y: CvMat, interpolation: number, border: number): void
  resize(from: CvMat, to: CvMat, size: object, fx: number, fy: number, interpolation: number): void
  GaussianBlur(from: CvMat, to: CvMat, size: object, sigmaX: number): void
  connectedComponentsWithStats(
    from: CvMat,
    labels: CvMat,
    stats: CvMat,
    centres: CvMat,
    connectivity: number,
    type: number,
  ): number
  convexHull(points: CvMat, hull: CvMat): void
  integral(from: CvMat, sums: CvMat, depth: number): void
  dft(from: CvMat, to: CvMat, flags: number): void
}

/** Runs `use` with OpenCV; every matrix handed to `keep` is deleted afterwards, whatever happens. Its faults, bare numbers, become errors. */
export function withOpenCv<Value>(use: (cv: OpenCv, keep: (mat: CvMat) => CvMat) => Value): Value {
  return ours((cv, keep) => use(cv as unknown as OpenCv, keep))
}
