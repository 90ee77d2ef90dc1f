import type { Random } from '../../math/random.js'
import type { CameraStation } from './cameraStation.js'
import type { CodeImage } from './codeImage.js'
import { exposeImage, type Exposure } from './exposeImage.js'
import { gaussianPixelCrossing } from './gaussianPixelResponse.js'
import { copyImage, type LinearImage } from './linearImage.js'
import { paintTarget, type TargetLight } from './paintTarget.js'
import type { PlanarTarget } from './planarTarget.js'
import { upscaleImage } from './upscaleImage.js'

/** A still to be taken: what stands in front of a background, through which optics, how exposed, and how it is exported. */
export interface StillRequest {
  readonly station: CameraStation
  /** In linear light, blurred already; may be a part of the picture only. It is not changed. */
  readonly background: LinearImage
  /** Farthest first; `perPixel` fine samples a pixel and axis (4 when left out), `light` a factor on the target's light. */
  readonly targets: readonly {
    readonly target: PlanarTarget
    readonly perPixel?: number
    readonly light?: TargetLight
  }[]
  readonly blurSigmaPx: number
  readonly exposure: Exposure
  /** A whole factor by which the export is blown up. */
  readonly upscale?: number
}

/** A still as taken, with the sharpness its optics and pixels allow before any filter or export touched it. */
export interface SimulatedStill {
  readonly image: CodeImage
  /** First crossing of 10 % modulation, cycles per exported pixel. */
  readonly f10: number
}

/**
 * The independent virtual camera: targets painted with exact geometry over a background in linear light, blurred by the
 * optics, exposed with seeded noise, and blown up where asked. What is true of the targets: `targetTruth`.
 */
export function takeStill(request: StillRequest, random: Random): SimulatedStill {
  const light = copyImage(request.background)
  for (const { target, perPixel, light: factor } of request.targets) {
    paintTarget(light, request.station, target, {
      perPixel: perPixel ?? 4,
      blurSigmaPx: request.blurSigmaPx,
      light: factor ?? 1,
    })
  }
  const image = exposeImage(light, request.exposure, random)
  const factor = request.upscale ?? 1
  return {
    image: factor === 1 ? image : upscaleImage(image, factor),
    f10: gaussianPixelCrossing(request.blurSigmaPx, 0.1) / factor,
  }
}
