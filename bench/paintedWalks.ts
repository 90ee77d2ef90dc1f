import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { median } from '../src/math/median.js'
import { COMPARED_AT, paintedWalks } from '../tests/support/paintedWalks.js'
import { PROMISED_M } from '../tests/support/riskCurves.js'
import { CLASSES, type WalkClass } from '../tests/support/riskWalk.js'

// Holds the corner-only walks of the risk curves to the pixel path: the same draws painted, written as JPEG, snapped or found, and measured. Arguments: walks of each class
// (6: 4 and 6 marks by turns, through five projections by turns), one class. "Noise" is what a density is off that of the same corners without any, root mean square.

const [walks = '6', onlyClass] = process.argv.slice(2)
const rms = (all: readonly number[]): number => Math.sqrt(all.reduce((sum, x) => sum + x * x, 0) / all.length)
const folder = mkdtempSync(join(tmpdir(), 'painted-'))
try {
  for (const walkClass of Object.keys(CLASSES) as WalkClass[]) {
    if (onlyClass !== undefined && onlyClass !== walkClass) continue
    const { stills, failed, apart, paths, ratioU, alike, unlike } = await paintedWalks(
      walkClass,
      Number(walks),
      folder,
    )
    const promises = Number(walks) * PROMISED_M.length
    console.log(`${walkClass}: ${stills - failed.length} of ${stills} stills measured, ${walks} walks`)
    console.log(
      `  density, painted against corners only, in its own U: median ${median(apart).toFixed(2)}, greatest ${Math.max(...apart).toFixed(2)}`,
    )
    for (const [at, { errorRel, z, holds }] of paths.entries()) {
      const noise = `${(100 * rms(errorRel)).toFixed(3)} %, ${rms(z).toFixed(2)} of what is stated`
      console.log(
        `  ${['painted', 'corners only'][at]!.padEnd(13)} noise ${noise}; holds F / D at ${PROMISED_M.join(', ')} m: ${holds.join(', ')} of ${walks}`,
      )
    }
    console.log(
      `  U of a promise, painted over corners only: median ${median(ratioU).toFixed(3)}, ${Math.min(...ratioU).toFixed(3)} to ${Math.max(...ratioU).toFixed(3)}`,
    )
    console.log(
      `  same verdict at truth / limit ${COMPARED_AT.join(', ')}: ${alike.join(', ')} of ${promises}`,
    )
    for (const line of [...failed, ...unlike]) console.log(`    ${line}`)
  }
} finally {
  rmSync(folder, { recursive: true })
}
