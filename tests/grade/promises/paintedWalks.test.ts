import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { COMPARED_AT, paintedWalks } from '../../support/paintedWalks.js'
import { PROMISED_M } from '../../support/riskCurves.js'

// Two of the 30 walks of `node bench/run.js paintedWalks`.
it('corner-only walks with snapped corners judge as their painted pictures do, and scatter no less', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'painted-'))
  try {
    const { stills, failed, apart, paths, ratioU, alike } = await paintedWalks('snapped', 2, folder)
    const rms = (of: readonly number[]): number => Math.hypot(...of) / Math.sqrt(of.length)
    const [painted, cornersOnly] = paths
    console.log(`noise ${rms(painted.errorRel)} painted, ${rms(cornersOnly.errorRel)} by corners`)
    expect(stills).toBe(10)
    expect(failed).toEqual([])
    expect(Math.max(...apart), 'densities apart, in U').toBeLessThan(1.5)
    expect(rms(painted.z), 'painted noise over what is stated').toBeLessThan(1.4)
    expect(rms(painted.errorRel)).toBeLessThan(1.2 * rms(cornersOnly.errorRel))
    expect(Math.min(...ratioU)).toBeGreaterThan(0.9)
    expect(Math.max(...ratioU)).toBeLessThan(1.1)
    expect(painted.holds).toEqual(PROMISED_M.map(() => 2))
    expect(alike).toEqual(COMPARED_AT.map(() => 2 * PROMISED_M.length))
  } finally {
    rmSync(folder, { recursive: true })
  }
}, 120_000)
