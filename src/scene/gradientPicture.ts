import type { CvMat, OpenCv } from './openCv.js'

/** How the gradients are smoothed, and over how many px they are held against each other. */
const SIGMA_PX = 1.2
const AROUND_PX = 41
/** Code values of a gradient as strong as those about it; and so much is added to these, so that noise alone stays dark. */
const AS_STRONG = 60
const ADDED = 6

/** How strong gradients are against those about them, as codes: the same edges by day, under infrared and under a lamp, whichever side is the lighter. The caller deletes it. */
export function gradientPicture(cv: OpenCv, picture: CvMat, keep: (mat: CvMat) => CvMat): CvMat {
  const [smooth, across, down, strength, around] = Array.from({ length: 5 }, () => keep(new cv.Mat()))
  cv.GaussianBlur(picture, smooth!, new cv.Size(0, 0), SIGMA_PX)
  cv.Sobel(smooth!, across!, cv.CV_32F, 1, 0)
  cv.Sobel(smooth!, down!, cv.CV_32F, 0, 1)
  cv.magnitude(across!, down!, strength!)
  cv.blur(strength!, around!, new cv.Size(AROUND_PX, AROUND_PX))
  const codes = keep(new cv.Mat(picture.rows, picture.cols, cv.CV_8UC1))
  const [own, mean, out] = [strength!.data32F, around!.data32F, codes.data]
  for (let i = 0; i < out.length; i++) out[i] = Math.min(255, (AS_STRONG * own[i]!) / (mean[i]! + ADDED))
  return codes
}
