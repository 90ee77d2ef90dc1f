import { decodeGrey } from '../tests/support/chartStill.js'
import { findChart } from '../tests/support/findChart.js'
import { readFileSync } from 'node:fs'

// Looks for charts in pictures that hold none. Arguments: files or a list on standard input, one a line. Prints every find and a count.

const files =
  process.argv.length > 2 ? process.argv.slice(2) : readFileSync(0, 'utf8').split('\n').filter(Boolean)
let [looked, found, time] = [0, 0, 0]
for (const file of files) {
  let image
  try {
    image = await decodeGrey(file)
  } catch {
    continue
  }
  if (Math.min(image.width, image.height) < 96) continue
  looked += 1
  if (looked % 20 === 0) console.error(`${looked} pictures, ${found} finds`)
  const begin = performance.now()
  const outcome = findChart(image)
  time += performance.now() - begin
  if (outcome.ok || outcome.code !== 'no-chart') {
    found += 1
    console.log(
      file,
      outcome.ok
        ? `r ${outcome.value.correlation.toFixed(3)} window ${outcome.value.worstWindow.toFixed(2)} p ${outcome.value.pixelsPerModule.toFixed(2)} kept ${outcome.value.kept.toFixed(2)} at ${outcome.value.corners.map((c) => c.map((v) => v.toFixed(0)).join(',')).join(' ')}`
        : outcome.code,
    )
  }
}
console.log(`${looked} pictures, ${found} false finds, ${(time / 1000).toFixed(0)} s`)
