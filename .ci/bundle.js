// Bundles the command, the library and the threads' scripts into dist/, flat: what they find beside themselves (texts, the page, each other) lies beside them. What is imported
// on demand is a file of its own; packages that bring native code or files of their own stay outside. Each thread's script is bundled by itself, so that it loads nothing of the command.
import { createHash } from 'node:crypto'
import { mkdir, readFile, writeFile } from 'node:fs/promises'
import { join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'

const root = fileURLToPath(new URL('../', import.meta.url))
const COMMAND = 'src/cli/main.ts'

const STARTS = { main: COMMAND, index: 'src/index.ts' }
const THREADS = {
  stillWorker: 'src/walk/measure/stillWorker.ts',
  sceneWorker: 'src/walk/scene/sceneWorker.ts',
  demoLightWorker: 'src/simulate/demo/demoLightWorker.ts',
}

const options = {
  absWorkingDir: root,
  outdir: 'dist',
  chunkNames: 'part-[hash]',
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20.19',
  external: ['sharp', 'pdfkit', 'unpdf', 'opencv-wasm'],
  // Packages in CommonJS ask for node's own modules.
  banner: {
    js: "import { createRequire as requireOf } from 'node:module'; const require = requireOf(import.meta.url);",
  },
  logLevel: 'warning',
  metafile: true,
}

const first = await build({ ...options, entryPoints: { ...STARTS, ...THREADS }, write: false })
const entries = Object.values(first.metafile.outputs).map(({ entryPoint }) => entryPoint)
const starting = Object.values({ ...STARTS, ...THREADS })
const onDemand = new Set(entries.filter((entry) => entry?.startsWith('src/') && !starting.includes(entry)))

/**
 * esbuild puts modules into one file where the same entries reach them, and opening a file costs as much as what is in it. So what is imported on demand reaches all of the
 * command, which is loaded by then, and the command starts from a few files.
 */
const reachesCommand = {
  name: 'reaches-command',
  setup({ onLoad }) {
    onLoad({ filter: /\.ts$/ }, async ({ path }) => {
      if (!onDemand.has(relative(root, path).replaceAll('\\', '/'))) return null
      return { contents: `${await readFile(path, 'utf8')}\nimport '${join(root, COMMAND)}'\n`, loader: 'ts' }
    })
  },
}

// What is kept of a measuring is believed by the same code alone.
const code = createHash('sha256')
for (const { path, contents } of first.outputFiles.sort((a, b) => (a.path < b.path ? -1 : 1)))
  code.update(`${relative(root, path)}\n`).update(contents)

const define = { PROOFWALK_BUILD: JSON.stringify(code.digest('hex')) }
const command = await build({ ...options, entryPoints: STARTS, plugins: [reachesCommand], define })
const threads = await Promise.all(
  Object.entries(THREADS).map(([name, file]) => build({ ...options, entryPoints: { [name]: file }, define })),
)
const inputs = Object.assign({}, ...[command, ...threads].map(({ metafile }) => metafile.inputs))
// What went into the bundle, for the list of licences.
await mkdir(join(root, 'node_modules/.cache'), { recursive: true })
await writeFile(join(root, 'node_modules/.cache/command-bundle.json'), JSON.stringify({ inputs }))
