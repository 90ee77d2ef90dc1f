import { readdir, readFile } from 'node:fs/promises'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

const root = fileURLToPath(new URL('../', import.meta.url))

async function bundledInto(bundle: string): Promise<string[]> {
  const { inputs } = JSON.parse(
    await readFile(`${root}node_modules/.cache/${bundle}-bundle.json`, 'utf8'),
  ) as { inputs: Record<string, unknown> }
  return Object.keys(inputs).flatMap((file) => /^node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file) ?? [])
}

test('what is bundled into the page or the command, or installed beside the package has its licence in the package', async () => {
  const listed = await readFile(`${root}dist/THIRD-PARTY-LICENSES.md`, 'utf8')
  const sections = new Map(
    listed
      .split(/^## /m)
      .slice(1)
      .map((section) => [section.slice(0, section.indexOf('\n')), section]),
  )
  const page = await bundledInto('page')
  const command = await bundledInto('command')
  expect(page).toContain('node_modules/preact')
  expect(command).toContain('node_modules/commander')
  const bundled = [...page, ...command]
  const lock = JSON.parse(await readFile(`${root}package-lock.json`, 'utf8')) as {
    packages: Record<string, { version: string; dev?: boolean; optional?: boolean }>
  }
  const shipped = Object.entries(lock.packages).filter(
    ([place, { dev }]) => place !== '' && (dev !== true || bundled.includes(place)),
  )
  expect(shipped.length).toBeGreaterThan(50)
  for (const [place, { version, optional }] of shipped) {
    const name = `${place.replace(/^.*node_modules\//, '')} ${version}`
    if (optional === true) {
      expect(sections.get('Builds for one kind of machine')).toMatch(new RegExp(`^- ${name}: \\S+`, 'm'))
      continue
    }
    const section = sections.get(name) ?? ''
    expect(section, name).toMatch(
      /Permission is hereby granted|Permission to use, copy, modify|Apache License|Redistribution and use/i,
    )
    expect(section.includes('bundled into'), name).toBe(bundled.includes(place))
    expect(/bundled into the page/.test(section), name).toBe(page.includes(place))
    const files = (await readdir(`${root}${place}`)).filter((file) => /^licen[cs]e/i.test(file))
    for (const file of files) {
      const firstLine = (await readFile(`${root}${place}/${file}`, 'utf8')).trim().split('\n')[0]!.trim()
      expect(section, name).toContain(firstLine)
    }
  }
  expect(sections.size).toBe(shipped.filter(([, { optional }]) => optional !== true).length + 1)
  expect(listed).toContain('SIL OPEN FONT LICENSE Version 1.1')
})
