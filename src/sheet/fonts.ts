import { createRequire } from 'node:module'
import type { Face } from './document/typography.js'

const FILES: Readonly<Record<Face, string>> = {
  regular: '400Regular/SourceSans3_400Regular.ttf',
  semibold: '600SemiBold/SourceSans3_600SemiBold.ttf',
  italic: '400Regular_Italic/SourceSans3_400Regular_Italic.ttf',
}

/** The path of a face's font file (Source Sans 3, SIL Open Font License). */
export function fontPath(face: Face): string {
  return createRequire(import.meta.url).resolve(`@expo-google-fonts/source-sans-3/${FILES[face]}`)
}
