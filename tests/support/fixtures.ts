import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

/** The path of a file under fixtures/, whose README tells where each comes from. */
export function fixture(name: string): string {
  return fileURLToPath(new URL(`../../fixtures/${name}`, import.meta.url))
}

/** What an outside reference made (fixtures/reference/NAME.py says how), as it was written down. */
export function referenceResults<Results>(name: string): Results {
  const told = JSON.parse(readFileSync(fixture(`reference/${name}.json`), 'utf8')) as { results: Results }
  return told.results
}
