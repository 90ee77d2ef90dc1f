import { readFile } from 'node:fs/promises'
import { expect, test } from 'vitest'

const root = new URL('../', import.meta.url)
const json = async (file: string): Promise<unknown> => JSON.parse(await readFile(new URL(file, root), 'utf8'))

interface Lock {
  readonly packages: Readonly<
    Record<string, { dev?: boolean; hasInstallScript?: boolean; resolved?: string; integrity?: string }>
  >
}
interface Manifest {
  readonly dependencies: Readonly<Record<string, string>>
  readonly devDependencies: Readonly<Record<string, string>>
  readonly allowScripts: Readonly<Record<string, boolean>>
  readonly scripts: Readonly<Record<string, string>>
}

test('nothing that is installed beside the package runs a script of its own, but for what decodes', async () => {
  const { packages } = (await json('package-lock.json')) as Lock
  const scripted = Object.entries(packages).filter(([, { hasInstallScript }]) => hasInstallScript === true)
  const shipped = scripted.filter(([, { dev }]) => dev !== true).map(([place]) => place)
  expect(shipped.filter((place) => place !== 'node_modules/sharp')).toEqual([])
  // In the clone each is refused or allowed by name, so that npm has nothing to warn of.
  const { allowScripts, scripts } = (await json('package.json')) as Manifest
  for (const [place] of scripted)
    expect(Object.keys(allowScripts)).toContain(place.replace('node_modules/', ''))
  for (const name of ['preinstall', 'install', 'postinstall']) expect(scripts).not.toHaveProperty(name)
})

test('every package is pinned to a version and a hash, and none is from elsewhere than the registry', async () => {
  const { packages } = (await json('package-lock.json')) as Lock
  const others = Object.entries(packages).filter(([place]) => place !== '')
  expect(others.length).toBeGreaterThan(100)
  for (const [place, { resolved, integrity }] of others) {
    expect(resolved ?? 'https://registry.npmjs.org/', place).toMatch(/^https:\/\/registry\.npmjs\.org\//)
    expect(integrity, place).toMatch(/^sha512-/)
  }
  const { dependencies, devDependencies } = (await json('package.json')) as Manifest
  for (const [name, version] of Object.entries({ ...dependencies, ...devDependencies }))
    expect(version, name).toMatch(/^\d+\.\d+\.\d+(-\d+)?$/)
})

test('each runtime dependency has its line in DEVELOPERS.md', async () => {
  const { dependencies } = (await json('package.json')) as Manifest
  const papers = await readFile(new URL('DEVELOPERS.md', root), 'utf8')
  const section = /## What it stands on\n([^#]*)/.exec(papers)?.[1] ?? ''
  for (const name of Object.keys(dependencies)) expect(section).toContain(`\`${name}\``)
})
