import { createRequire } from 'node:module'

const packageFile = createRequire(import.meta.url)('../package.json') as { version: string }

/** The version of the package, as its package.json says. */
export const productVersion: string = packageFile.version
