import { existsSync, readFileSync, readdirSync } from 'node:fs'
import type { Command } from 'commander'
import { describe, expect, test } from 'vitest'
import { HELP_TOPICS } from '../src/cli/help/helpTopics.js'
import { buildProgram } from '../src/cli/program.js'
import { commandsIn } from './support/commandsIn.js'
import { runCommand } from './cli/recordingTerminal.js'

const paper = (name: string): string => readFileSync(new URL(`../${name}`, import.meta.url), 'utf8')
const README = paper('README.md')

/** A program that prints nowhere, to ask for its commands. */
const program = buildProgram({
  out: () => undefined,
  err: () => undefined,
  interactive: false,
  showsProgress: false,
  styled: false,
  columns: 100,
  setStatus: () => undefined,
})

test.each([
  ['README.md', 130, 1800],
  ['DEVELOPERS.md', 150, 2000],
])('%s has at most %i lines and %i words', (name, lines, words) => {
  const text = paper(name)
  expect(text.split('\n').length - 1).toBeLessThanOrEqual(lines)
  expect(text.split(/\s+/).filter((word) => word !== '').length).toBeLessThanOrEqual(words)
  // no line so long that the count of lines says nothing
  expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(240)
})

describe('the README', () => {
  const commands = commandsIn(README)

  test('names every command there is, and none that is not', () => {
    const known = program.commands.map((command) => command.name()).sort()
    expect([...new Set(commands.map(([name]) => name!))].sort()).toEqual(known)
  })

  test.each(commands.map((words) => [words.join(' '), words] as const))(
    '%s exists',
    (_line, [name, ...rest]) => {
      const command = commandNamed(program, name!)
      const asked = rest.filter((word) => /^--/.test(word))
      const inner = command.commands.find((one) => one.name() === rest[0]) ?? command
      const options = inner.options.map(({ long }) => long)
      expect(asked.filter((option) => !options.includes(option))).toEqual([])
    },
  )

  test('names options that their commands have', () => {
    const rows = README.split('\n').filter((line) => /^\| `proofwalk /.test(line))
    expect(rows.length).toBeGreaterThan(12)
    for (const row of rows) {
      const command = commandNamed(program, /`proofwalk (\w+)/.exec(row)![1]!)
      const all = [command, ...command.commands].flatMap(({ options }) => options.map(({ long }) => long))
      for (const [option] of row.matchAll(/--[a-z-]+/g))
        expect([command.name(), all]).toEqual([command.name(), expect.arrayContaining([option])])
    }
  })

  test('names topics and codes that help knows', async () => {
    const listed = /^Topics of help.*: (.+)\.$/m.exec(README)![1]!
    const topics = [...listed.matchAll(/`(\w+)`/g)].map(([, topic]) => topic!)
    expect(topics.length).toBeGreaterThan(8)
    for (const topic of topics) expect(Object.keys(HELP_TOPICS)).toContain(topic)
    for (const [, topic] of README.matchAll(/`proofwalk help (\w+)`/g))
      if (topic !== 'TOPIC') expect((await runCommand('help', topic!)).status).toBe(0)
  })
})

describe('DEVELOPERS.md', () => {
  const text = paper('DEVELOPERS.md')

  test('names paths that exist', () => {
    const paths = [...text.matchAll(/`((?:src|tests|bench|fixtures|\.ci)\/[\w./]*)`/g)].map(
      ([, path]) => path!,
    )
    expect(paths.length).toBeGreaterThan(40)
    expect(paths.filter((path) => !existsSync(new URL(`../${path}`, import.meta.url)))).toEqual([])
  })

  test('draws the house as it stands: every room with its own rooms', () => {
    const drawn = new Map(
      [...text.matchAll(/^\| `src\/([\w/]+)\/` \| ([^|]*)\|/gm)].map(([, room, own]) => [
        room!,
        [...own!.matchAll(/`(\w+)`/g)].map(([, name]) => name!).sort(),
      ]),
    )
    for (const [room, own] of drawn) expect([room, own]).toEqual([room, roomsIn(room)])
    const top = [...drawn.keys()].filter((room) => !room.includes('/'))
    expect(top.sort()).toEqual(roomsIn('.'))
  })
})

test('what was measured names its command, and its commit and date', () => {
  const folder = new URL('../bench/results/', import.meta.url)
  const files = readdirSync(folder)
  expect(files.length).toBeGreaterThan(5)
  for (const file of files) {
    const whole = readFileSync(new URL(file, folder), 'utf8')
    const text = /<desc>([^<]*)/.exec(whole)?.[1] ?? whole
    expect([file, text]).toEqual([
      file,
      expect.stringMatching(/^# .+\n\n- command: .+\n- commit.*[0-9a-f]{7}/),
    ])
    expect([file, text]).toEqual([file, expect.stringMatching(/\b20\d\d-\d\d-\d\d\b/)])
  }
})

/** The rooms in a room of src, by name: its folders that hold code. */
function roomsIn(room: string): string[] {
  const folder = new URL(`../src/${room}/`, import.meta.url)
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .filter((name) =>
      readdirSync(new URL(`${name}/`, folder), { recursive: true }).some((file) =>
        /\.tsx?$/.test(String(file)),
      ),
    )
    .sort()
}

function commandNamed(parent: Command, name: string): Command {
  const command = parent.commands.find((one) => one.name() === name)
  if (command === undefined) throw new Error(`the README names a command ${name}, which is not there`)
  return command
}
