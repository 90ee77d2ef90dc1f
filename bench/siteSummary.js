// How long `proofwalk summary` takes on a site of walks, none measured again; build first. Arguments: walks (40), stills of each (20).
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import sharp from 'sharp'

const WALKS = Number(process.argv[2] ?? 40)
const STILLS = Number(process.argv[3] ?? 20)
const [WIDTH, HEIGHT] = [3840, 2160]
const BIN = fileURLToPath(new URL('../bin/proofwalk.js', import.meta.url))
const home = mkdtempSync(join(tmpdir(), 'proofwalk-site-'))
const sha256 = (bytes) => createHash('sha256').update(bytes).digest('hex')
const run = (...args) => {
  const began = performance.now()
  const { status, stdout, stderr } = spawnSync(process.execPath, [BIN, ...args], {
    encoding: 'utf8',
    maxBuffer: 1e9,
  })
  return { status, stdout, stderr, seconds: (performance.now() - began) / 1000 }
}

const first = join(home, 'camera-01')
mkdirSync(join(first, 'stills', 'day'), { recursive: true })
const picks = {}
for (let still = 0; still < STILLS; still += 1) {
  const distanceM = 4 + still
  const [w, h] = [(2200 / distanceM) * 0.6, (2200 / distanceM) * 0.4]
  const [left, top] = [Math.round((WIDTH - w) / 2), Math.round((HEIGHT - h) / 2)]
  const board = {
    create: { width: Math.round(w), height: Math.round(h), channels: 3, background: '#c8c8c8' },
  }
  const ground = {
    create: {
      width: WIDTH,
      height: HEIGHT,
      channels: 3,
      background: '#303030',
      noise: { type: 'gaussian', mean: 60, sigma: 5.5 },
    },
  }
  const bytes = await sharp(ground)
    .composite([{ input: board, left, top }])
    .jpeg({ quality: 88 })
    .toBuffer()
  const file = `stills/day/${distanceM}m.jpg`
  writeFileSync(join(first, file), bytes)
  const [right, bottom] = [left + Math.round(w), top + Math.round(h)]
  picks[file] = {
    sha256: sha256(bytes),
    corners: [
      [left, top],
      [right, top],
      [right, bottom],
      [left, bottom],
    ],
  }
}
const yaml = (id) => `site: Harbour
date: 2026-03-14
simulated: true
camera: { name: Camera ${id}, id: ${id} }
references:
  board: { width: 600 mm, height: 400 mm }
lights: [day]
judge: pixels
promises:
  - { grade: recognise, at: 16 m, light: day }
  - { grade: identify, at: 8 m, light: day }
`
writeFileSync(join(first, 'picks.json'), JSON.stringify({ format: 'proofwalk-picks/1', stills: picks }))
writeFileSync(join(first, 'walk.yaml'), yaml('C-01'))
const measured = run('measure', first)
console.log(
  `one walk measured in ${measured.seconds.toFixed(1)} s, status ${measured.status} ${measured.stderr}`,
)
const dirs = [first]
for (let walk = 2; walk <= WALKS; walk += 1) {
  const id = `C-${String(walk).padStart(2, '0')}`
  const dir = join(home, `camera-${id.slice(2)}`)
  cpSync(first, dir, { recursive: true })
  writeFileSync(join(dir, 'walk.yaml'), yaml(id))
  // As if measured there: the same stills under another name.
  const results = JSON.parse(readFileSync(join(dir, 'results.json'), 'utf8'))
  results.inputs.walk = sha256(yaml(id))
  results.walk.camera = { ...results.walk.camera, name: `Camera ${id}`, id }
  writeFileSync(join(dir, 'results.json'), `${JSON.stringify(results, null, 2)}\n`)
  dirs.push(dir)
}
const megabytes = (STILLS * WALKS * statSync(join(first, 'stills/day/4m.jpg')).size) / 1e6
const times = Array.from({ length: 5 }, () => run('summary', ...dirs, '--no-scene', '--json'))
const { counts } = JSON.parse(times[0].stdout)
console.log(JSON.stringify(counts))
const seconds = times.map((one) => one.seconds).sort((a, b) => a - b)
console.log(
  `${WALKS} walks of ${STILLS} stills, some ${megabytes.toFixed(0)} MB hashed: ${seconds[2].toFixed(2)} s, median of 5 (${seconds[0].toFixed(2)} to ${seconds[4].toFixed(2)})`,
)
rmSync(home, { recursive: true })
