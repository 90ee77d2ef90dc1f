import { execFileSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const PYTHON = '/usr/bin/python3'

/** What a check against the outside needs of a Debian system. */
export interface Needs {
  /** Packages to name where something is missing. */
  readonly packages: string
  readonly files: readonly string[]
  /** Python modules that must load. */
  readonly modules: readonly string[]
}

/** Why a check cannot run here, or null where it can. */
export function whyMissing(needs: Needs): string | null {
  const absent = needs.files.find((file) => !existsSync(file))
  if (absent !== undefined) return `${absent} is not there; install ${needs.packages}`
  try {
    execFileSync(PYTHON, ['-c', `import ${needs.modules.join(', ')}`], { stdio: 'ignore' })
    return null
  } catch {
    return `python3 has no ${needs.modules.join(' or ')}; install ${needs.packages}`
  }
}

/** What a script beside the tests prints as JSON, run by the system's Python. */
export function printedBy<Printed>(script: string, args: readonly string[] = []): Printed {
  const path = fileURLToPath(new URL(script, import.meta.url))
  return JSON.parse(execFileSync(PYTHON, [path, ...args], { encoding: 'utf8' })) as Printed
}
