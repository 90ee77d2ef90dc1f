// Picking a walk on the page as people do: four corners a still by a careful mouse, by the keys alone, and by a finger that lies off by 5 CSS px per axis (one standard deviation), holds
// the loupe, and goes there with the same error. Told: stills saved, intervals of density that hold the truth, their median half-width, actions a still. Then two corners and a fit, the other two where it is refused.
// Needs `npm run build` and /usr/bin/chromium. Arguments: demo or recorded (the walk; recorded), stills a hand (12), then hands.
import { existsSync } from 'node:fs'
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { median } from '../src/math/median.js'
import { seededRandom } from '../src/math/random.js'
import type { TargetTruth } from '../src/simulate/camera/targetTruth.js'
import { makeDemoWalk } from '../src/simulate/demo/makeDemoWalk.js'
import { resultsSchema } from '../src/walk/schemas/resultsSchema.js'
import {
  HAS_CHROMIUM,
  isDrawn,
  isSaved,
  onScreen,
  openPage,
  startBrowser,
  startPick,
} from '../tests/page/openPage.js'
import { makeRecordedWalk } from '../tests/page/recordedWalk.js'

const [walkName = 'recorded', count = '12', ...only] = process.argv.slice(2)
const FINGER_PX = 5
const MOUSE_PX = 0.6
const random = seededRandom(15)

interface TrueStill {
  readonly file: string
  readonly mark: string
  readonly light: string
  readonly reference: string | null
  readonly truth: TargetTruth
}

async function makeWalk(dir: string): Promise<readonly TrueStill[]> {
  if (walkName !== 'demo') {
    const stills = await makeRecordedWalk(dir)
    return stills.map(({ file, light, distanceM, truth }) => ({
      file,
      light,
      mark: `${distanceM} m`,
      reference: null,
      truth,
    }))
  }
  const { truth } = await makeDemoWalk(dir, { workers: 1 })
  await rm(join(dir, 'picks.json'))
  return truth
    .filter(({ still }) => still.reference !== 'chart')
    .map(({ file, still, truth: own }) => ({
      file,
      light: still.light,
      mark: `${still.tapedM} m`,
      reference: still.reference,
      truth: own,
    }))
}

type Place = readonly [number, number]
type Hand = (page: Page, still: TrueStill) => Promise<number>

const scaleOf = async (page: Page): Promise<number> =>
  Number((await page.locator('.desk-box').getAttribute('data-window'))!.split(' ')[0])

const HANDS: Readonly<Record<string, Hand>> = {
  async mouse(page, { truth }) {
    for (const corner of truth.corners) {
      const [x, y] = await onScreen(page, corner)
      await page.mouse.click(x + MOUSE_PX * random.normal(), y + MOUSE_PX * random.normal())
    }
    return 4
  },
  async keys(page, { truth }) {
    const box = (await page.locator('.desk-box').boundingBox())!
    let at: Place = [box.x + box.width / 2, box.y + box.height / 2]
    await page.locator('.desk-box').focus()
    for (const corner of truth.corners) {
      const to = await onScreen(page, corner)
      const steps = [0, 1].map((axis) => Math.round((to[axis]! - at[axis]!) / 2))
      for (const [axis, less, more] of [
        [0, 'ArrowLeft', 'ArrowRight'],
        [1, 'ArrowUp', 'ArrowDown'],
      ] as const) {
        const key = steps[axis]! < 0 ? less : more
        for (let i = 0; i < Math.floor(Math.abs(steps[axis]!) / 12); i += 1) await page.keyboard.press(key)
        for (let i = 0; i < Math.abs(steps[axis]!) % 12; i += 1) await page.keyboard.press(`Shift+${key}`)
      }
      at = [at[0] + 2 * steps[0]!, at[1] + 2 * steps[1]!]
      await page.keyboard.press('Space')
    }
    return 4
  },
  async finger(page, { truth }) {
    const session = await page.context().newCDPSession(page)
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', places: { x: number; y: number }[]) =>
      session.send('Input.dispatchTouchEvent', { type, touchPoints: places })
    const scale = await scaleOf(page)
    const inLoupe = Math.max(scale, Math.min(11, (FINGER_PX / MOUSE_PX) * scale))
    for (const corner of truth.corners) {
      const [x, y] = await onScreen(page, corner)
      const [offX, offY] = [FINGER_PX * random.normal(), FINGER_PX * random.normal()]
      await touch('touchStart', [{ x: x + offX, y: y + offY }])
      await page.locator('.loupe[data-side=finger]').waitFor()
      const slip = (): number => FINGER_PX * random.normal()
      await touch('touchMove', [
        { x: x + offX - (offX / scale) * inLoupe + slip(), y: y + offY - (offY / scale) * inLoupe + slip() },
      ])
      await touch('touchEnd', [])
    }
    await session.detach()
    return 4
  },
  async fit(page, { truth }) {
    for (const at of [0, 2] as const) {
      const [x, y] = await onScreen(page, truth.corners[at])
      await page.mouse.click(x + MOUSE_PX * random.normal(), y + MOUSE_PX * random.normal())
    }
    await page.getByText(/^(Dashed: fitted|No fit)/).waitFor()
    const isFitted = (await page.getByText(/^Dashed: fitted/).count()) > 0
    if (isFitted) await page.keyboard.press('Enter')
    // Refused, the other two corners are placed by hand, as the page says.
    for (const at of isFitted ? [] : ([1, 3] as const)) {
      const [x, y] = await onScreen(page, truth.corners[at])
      await page.mouse.click(x + MOUSE_PX * random.normal(), y + MOUSE_PX * random.normal())
    }
    return isFitted ? 3 : 4
  },
}

async function pickWalk(
  name: string,
  hand: Hand,
  pattern: string,
  stills: readonly TrueStill[],
): Promise<void> {
  const dir = `${pattern}-${name}`
  await cp(pattern, dir, { recursive: true })
  const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
  const isNamed = stills.every(({ reference }) => reference !== null)
  const told = stills.map(
    ({ file, mark, light, reference }) =>
      `  - { file: ${file}, mark: ${mark}, light: ${light}${isNamed ? `, reference: ${reference}` : ''} }\n`,
  )
  await writeFile(join(dir, 'walk.yaml'), `${yaml}stills:\n${told.join('')}`)
  const browser = await startBrowser()
  const pick = await startPick(dir, 0, 'pick', 'bin/proofwalk.js')
  const isFinger = name === 'finger'
  const { page } = await openPage(browser, pick.address, {
    viewport: isFinger ? { width: 1024, height: 768 } : { width: 1440, height: 900 },
    hasTouch: isFinger,
  })
  page.setDefaultTimeout(600_000)
  let actions = 0
  let fitted = 0
  await page.locator('.strip-item').first().waitFor()
  const show = async ({ file }: TrueStill): Promise<void> => {
    await page.locator(`[id="still-${encodeURIComponent(file)}"]`).click()
    await isDrawn(page, file)
  }
  // Asked once, where a plate is first shown: before the counted actions, so that no hand meets it on its way.
  const plate = stills.find(({ reference }) => reference === 'plate')
  if (plate !== undefined) {
    await show(plate)
    await page.getByRole('button', { name: 'I do not know' }).click()
  }
  for (const still of stills) {
    await show(still)
    const done = await hand(page, still)
    actions += done
    if (done === 3) fitted += 1
  }
  await isSaved(page)
  await page.waitForTimeout(300)
  await page.getByRole('button', { name: 'Measure all' }).click()
  await page.getByRole('button', { name: 'Walk', exact: true }).click()
  await page.getByText('results.json holds what stands here').waitFor({ timeout: 600_000 })
  await browser.close()
  await pick.end()
  const results = resultsSchema.parse(JSON.parse(await readFile(join(dir, 'results.json'), 'utf8')))
  const rows = stills.flatMap(({ file, truth }) => {
    const density = results.stills.find((entry) => entry.file === file)?.density
    return density === undefined
      ? []
      : [{ density, truth: Math.min(truth.horizontalPxPerM, truth.verticalPxPerM) }]
  })
  const held = rows.filter(({ density: { low, high }, truth }) => low! <= truth && truth <= high!).length
  const widths = rows.map(({ density: { low, high, onTarget } }) => (high! - low!) / 2 / onTarget)
  const cells = [
    name,
    stills.length,
    rows.length,
    held,
    `${(100 * median(widths)).toFixed(2)} %`,
    (actions / stills.length).toFixed(1),
    name === 'fit' ? fitted : '',
  ]
  console.log(`| ${cells.join(' | ')} |`)
}

if (!HAS_CHROMIUM || !existsSync('dist/browser')) throw new Error('needs /usr/bin/chromium and npm run build')
const home = await mkdtemp(join(tmpdir(), 'proofwalk-hands-'))
try {
  const pattern = join(home, 'walk')
  const stills = (await makeWalk(pattern)).slice(0, Number(count))
  console.log(
    `The ${walkName} walk.\n\n| hand | stills | measured | hold the truth | half-width, median | actions a still | fits taken |\n|---|---|---|---|---|---|---|`,
  )
  for (const [name, hand] of Object.entries(HANDS))
    if (only.length === 0 || only.includes(name)) await pickWalk(name, hand, pattern, stills)
} finally {
  await rm(home, { recursive: true, force: true })
}
