// Builds the page's browser side into dist/browser: one script, one stylesheet, the page itself. Nothing is fetched at run time.
import { copyFile, mkdir, rm, writeFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { dirname } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'

const here = fileURLToPath(new URL('.', import.meta.url))
const out = fileURLToPath(new URL('../../../dist/browser/', import.meta.url))
// What went into the bundle, for the list of licences.
const contents = fileURLToPath(new URL('../../../node_modules/.cache/page-bundle.json', import.meta.url))
const fonts = createRequire(import.meta.url)

await rm(out, { recursive: true, force: true })
await mkdir(out, { recursive: true })
const { metafile } = await build({
  entryPoints: {
    page: `${here}main.tsx`,
    style: `${here}page.css`,
    trial: `${here}trialMain.tsx`,
    trialStyle: `${here}trial.css`,
  },
  outdir: out,
  bundle: true,
  minify: true,
  format: 'esm',
  target: ['es2022'],
  jsx: 'automatic',
  jsxImportSource: 'preact',
  // The stylesheet names the fonts where the server serves them.
  external: ['./*.ttf'],
  legalComments: 'eof',
  logLevel: 'warning',
  metafile: true,
})
await mkdir(dirname(contents), { recursive: true })
await writeFile(contents, JSON.stringify(metafile))
for (const page of ['index.html', 'read.html']) await copyFile(`${here}${page}`, `${out}${page}`)
for (const [name, file] of [
  ['regular', '400Regular/SourceSans3_400Regular.ttf'],
  ['semibold', '600SemiBold/SourceSans3_600SemiBold.ttf'],
])
  await copyFile(fonts.resolve(`@expo-google-fonts/source-sans-3/${file}`), `${out}${name}.ttf`)
