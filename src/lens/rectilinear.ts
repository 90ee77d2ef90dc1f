/**
 * F, px per radian at the centre, of a lens that draws straight lines straight (p = 1) and sees `fullAngleDeg` over `sidePx`;
 * null from 180 degrees on, which no such lens sees.
 */
export function rectilinearPixelsPerRadian(sidePx: number, fullAngleDeg: number): number | null {
  if (!(fullAngleDeg > 0 && fullAngleDeg < 180)) return null
  return sidePx / 2 / Math.tan((fullAngleDeg * Math.PI) / 360)
}

/** The angle in degrees such a lens sees over `otherPx` when it sees `fullAngleDeg` over `sidePx`; 180 from 180 degrees on. */
export function rectilinearAngleDeg(sidePx: number, fullAngleDeg: number, otherPx: number): number {
  const pixelsPerRadian = rectilinearPixelsPerRadian(sidePx, fullAngleDeg)
  return pixelsPerRadian === null ? 180 : (Math.atan(otherPx / 2 / pixelsPerRadian) * 360) / Math.PI
}
