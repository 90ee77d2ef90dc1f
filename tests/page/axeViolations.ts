import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import type { Page } from 'playwright-core'

/** What axe-core finds wrong with a page as it stands, a line each. */
export async function axeViolations(page: Page): Promise<string[]> {
  await page.evaluate(await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'))
  return page.evaluate<string[]>(
    `axe.run(document).then(({ violations }) => violations.flatMap(({ id, nodes }) => nodes.map(({ html, failureSummary }) => id + ': ' + html.slice(0, 120) + ' ' + failureSummary)))`,
  )
}
