import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { availableParallelism, loadavg } from 'node:os'
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type Page,
} from 'playwright-core'
import { BIN } from '../journeys/runProofwalk.js'

/** Debian's Chromium, which the gate installs, where there is one without windows, which takes a third less time; elsewhere the tests that need it are skipped. */
const CHROMIUM = ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium'].find(existsSync)

/** Whether there is a browser to test with. Under the gate a skip is a failure. */
export const HAS_CHROMIUM = CHROMIUM !== undefined

const FLAGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/** How many times longer than an idle machine this one takes just now: what else runs on it must not fail a time that is stated for an idle one. */
export function busyFactor(): number {
  return Math.max(1, loadavg()[0]! / availableParallelism())
}

/** A browser for the tests of a file. */
export function startBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: CHROMIUM!, args: FLAGS })
}

/** The page of a walk, served. */
export interface RunningPage {
  /** What a person opens, once. */
  readonly address: string
  readonly port: number
  /** Ends it as Ctrl-C would. */
  end(): Promise<void>
}

/** The command `pick` at work on a walk. */
export interface RunningPick extends RunningPage {
  /** Ends it in the midst of whatever it does. */
  kill(): Promise<void>
}

/** Starts `proofwalk pick` (or `read`) on a walk, or without one within a folder, and waits for its address. */
export async function startPick(
  dir: string | { readonly within: string },
  port = 0,
  command: 'pick' | 'read' = 'pick',
  bin = BIN,
): Promise<RunningPick> {
  const [named, cwd] = typeof dir === 'string' ? [[dir], process.cwd()] : [[], dir.within]
  const child = spawn(process.execPath, [bin, command, ...named, '--no-open', '--port', String(port)], {
    stdio: ['ignore', 'pipe', 'pipe'],
    cwd,
  })
  const address = await firstLine(child)
  const ended = (signal: NodeJS.Signals) =>
    new Promise<void>((resolve) => {
      if (child.exitCode !== null || child.signalCode !== null) return resolve()
      child.once('exit', () => resolve())
      child.kill(signal)
    })
  return {
    address,
    port: Number(new URL(address).port),
    end: () => ended('SIGINT'),
    kill: () => ended('SIGKILL'),
  }
}

function firstLine(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let out = ''
    let err = ''
    child.stderr?.setEncoding('utf8').on('data', (text: string) => (err += text))
    child.stdout?.setEncoding('utf8').on('data', (text: string) => {
      out += text
      const end = out.indexOf('\n')
      if (end >= 0) resolve(out.slice(0, end))
    })
    child.once('exit', () => reject(new Error(`pick ended before it had an address: ${err}`)))
  })
}

export const WIDE = { viewport: { width: 1440, height: 900 }, hasTouch: false }
export const TABLET = { viewport: { width: 1024, height: 768 }, hasTouch: true }

/** Where each case of the page must hold: at a desk, and on a touch laptop or tablet. */
export const PLACES = [
  ['at 1440 px', WIDE],
  ['at 1024 px by touch', TABLET],
] as const

/** A page on a walk, with what went wrong in it. */
export interface OpenPage {
  readonly context: BrowserContext
  readonly page: Page
  /** Errors of the page and requests to anywhere but its server. */
  readonly faults: string[]
}

/** Opens a page in a browser of its own cookies. */
export async function openPage(
  browser: Browser,
  address: string,
  options: BrowserContextOptions = {},
): Promise<OpenPage> {
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 }, ...options })
  const opened = { context, page: await context.newPage(), faults: [] as string[] }
  watch(opened.page, new URL(address).origin, opened.faults)
  await opened.page.goto(address)
  return opened
}

function watch(page: Page, origin: string, faults: string[]): void {
  page.on('pageerror', (error) => faults.push(error.message))
  page.on('request', (request) => {
    const { protocol, origin: asked } = new URL(request.url())
    if (protocol !== 'data:' && asked !== origin) faults.push(`asked ${request.url()}`)
  })
}

/** Waits until a still is drawn large. */
export async function isDrawn(page: Page, file: string): Promise<void> {
  await page.waitForSelector(`.desk-box[data-drawn="${file}"]`)
}

/** Waits until everything is saved; where it does not come to that, tells what the page says instead. */
export async function isSaved(page: Page): Promise<void> {
  await page.waitForSelector('.save[data-saved=true]').catch(async () => {
    const said = await page.locator('.save, .notices').allTextContents()
    throw new Error(`not saved: ${said.join(' | ')}`)
  })
}

/** Where a point of the still at hand (px) is on the screen. */
export async function onScreen(
  page: Page,
  [x, y]: readonly [number, number],
): Promise<readonly [number, number]> {
  // What was zoomed or panned is painted, and told, in the frame that follows.
  await page.evaluate('new Promise((painted) => requestAnimationFrame(() => requestAnimationFrame(painted)))')
  const box = (await page.locator('.desk-box').boundingBox())!
  const [scale, left, top] = (await page.locator('.desk-box').getAttribute('data-window'))!
    .split(' ')
    .map(Number)
  return [box.x + (x - left!) * scale!, box.y + (y - top!) * scale!]
}

/** Clicks points of the still at hand, px. */
export async function clickPoints(page: Page, points: readonly (readonly [number, number])[]): Promise<void> {
  for (const point of points) await page.mouse.click(...(await onScreen(page, point)))
}
