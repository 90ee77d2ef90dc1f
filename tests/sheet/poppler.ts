import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** Whether poppler's tools are here. Where they must be (CI) and are not, that is a failure and no reason to skip. */
export function hasPoppler(): boolean {
  const found = spawnSync('pdfinfo', ['-v']).error === undefined
  if (!found && process.env['CI'] !== undefined) throw new Error('CI needs poppler: install poppler-utils')
  return found
}

/** What a tool of poppler prints of a document; `FILE` among the arguments stands for it. */
export function poppler(tool: string, args: readonly string[], pdf: Uint8Array): string {
  return withFile(pdf, (file) =>
    execFileSync(
      tool,
      args.map((arg) => (arg === 'FILE' ? file : arg)),
      { encoding: 'utf8', maxBuffer: 1 << 26 },
    ),
  )
}

/** Runs with the document as a file in a folder of its own, which is gone afterwards. */
export function withFile<Value>(pdf: Uint8Array, use: (file: string, dir: string) => Value): Value {
  const dir = mkdtempSync(join(tmpdir(), 'proofwalk-sheet-'))
  try {
    const file = join(dir, 'sheet.pdf')
    writeFileSync(file, pdf)
    return use(file, dir)
  } finally {
    rmSync(dir, { recursive: true, force: true })
  }
}

export interface PdfWord {
  readonly text: string
  readonly xMin: number
  readonly yMin: number
  readonly xMax: number
  readonly yMax: number
}

/** The words of every page with their boxes, points. */
export function pageWords(pdf: Uint8Array): { width: number; height: number; words: PdfWord[] }[] {
  const html = poppler('pdftotext', ['-bbox', 'FILE', '-'], pdf)
  return html
    .split('<page ')
    .slice(1)
    .map((page) => ({
      width: Number(/width="([\d.]+)"/.exec(page)?.[1]),
      height: Number(/height="([\d.]+)"/.exec(page)?.[1]),
      words: [
        ...page.matchAll(
          /<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)<\/word>/g,
        ),
      ].map(([, xMin, yMin, xMax, yMax, text]) => ({
        text: text ?? '',
        xMin: Number(xMin),
        yMin: Number(yMin),
        xMax: Number(xMax),
        yMax: Number(yMax),
      })),
    }))
}
