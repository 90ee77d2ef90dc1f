import { writeFileSync } from 'node:fs'
import { chartPaper } from '../src/chart/printed/chartPapers.js'
import { chartPdf } from '../src/sheet/chart/chartPdf.js'
const out = process.argv[2]!
for (const id of ['A5', 'A4', 'A2', 'Letter', 'Tabloid', 'A0'])
  writeFileSync(`${out}/${id}.pdf`, await chartPdf({ paper: chartPaper(id)!, tile: null, dim: false }))
writeFileSync(`${out}/A4dim.pdf`, await chartPdf({ paper: chartPaper('A4')!, tile: null, dim: true }))
writeFileSync(
  `${out}/A2tiled.pdf`,
  await chartPdf({ paper: chartPaper('A2')!, tile: chartPaper('A4')!, dim: false }),
)
