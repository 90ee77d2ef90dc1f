import { createRequire } from 'node:module'

const packageFile = createRequire(import.meta.url)('../package.json') as { version: string }

declare const PROOFWALK_BUILD: string | undefined

/** The version of the package, as its package.json says. */
export const productVersion: string = packageFile.version

/** Tells one build from another by its code; of the sources, which change under a running process' feet, it tells nothing. */
export const buildIdentity: string = typeof PROOFWALK_BUILD === 'undefined' ? 'sources' : PROOFWALK_BUILD
