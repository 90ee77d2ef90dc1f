// Writes dist/THIRD-PARTY-LICENSES.md: the licences of what is bundled into the page and the command and of what npm installs beside the package, from the lock file and node_modules.
import { readdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../', import.meta.url))
const json = async (file) => JSON.parse(await readFile(join(root, file), 'utf8'))

const { packages } = await json('package-lock.json')
const bundles = { page: await bundledInto('page'), command: await bundledInto('command') }
const bundled = new Set(Object.values(bundles).flatMap((places) => [...places]))

const entries = Object.entries(packages)
  .filter(([place, { dev }]) => place !== '' && (!dev || bundled.has(place)))
  .map(([place, entry]) => ({ place, ...entry, name: place.replace(/^.*node_modules\//, '') }))
const texts = []
for (const entry of entries.filter(({ optional }) => !optional)) {
  const told = await json(`${entry.place}/package.json`)
  const licence = entry.license ?? told.licenses?.[0]?.type ?? told.license?.type ?? 'see below'
  const into = Object.keys(bundles).filter((bundle) => bundles[bundle].has(entry.place))
  const where = into.length === 0 ? '' : `, bundled into the ${into.join(' and the ')}`
  texts.push(
    `## ${entry.name} ${entry.version}\n\n${licence}${where}\n\n${quoted(await textOf(entry, told))}`,
  )
}
const builds = entries.filter(({ optional }) => optional)

await writeFile(
  join(root, 'dist/THIRD-PARTY-LICENSES.md'),
  `# Licences of others' work\n\n${texts.join('\n')}
## Builds for one kind of machine

npm installs those that the machine needs; each brings its own licence.

${builds.map(({ name, version, license }) => `- ${name} ${version}: ${license}\n`).join('')}`,
)

/** The places of the packages whose code went into a bundle. */
async function bundledInto(bundle) {
  const { inputs } = await json(`node_modules/.cache/${bundle}-bundle.json`)
  return new Set(Object.keys(inputs).flatMap((file) => /^node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file) ?? []))
}

/** What a package's licence files say; where it has none but is under MIT's terms, those, with its author. */
async function textOf({ place, name, license }, { author }) {
  const files = (await readdir(join(root, place))).filter((file) =>
    /^(licen[cs]e|copying|notice)/i.test(file),
  )
  if (files.length > 0)
    return (await Promise.all(files.sort().map((file) => readFile(join(root, place, file), 'utf8')))).join(
      '\n',
    )
  if (license !== 'MIT' || author === undefined) throw new Error(`${name} has no licence text`)
  const ours = await readFile(join(root, 'LICENSE'), 'utf8')
  return ours.replace(/^Copyright.*$/m, `Copyright ${author.name ?? author}`)
}

/** Text as a block that Markdown leaves as it is. */
function quoted(text) {
  return text.trim().replace(/^.*$/gm, (line) => (line.trim() === '' ? '' : `    ${line.trimEnd()}`)) + '\n'
}
