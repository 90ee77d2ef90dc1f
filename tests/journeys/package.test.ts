import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { runProgram } from './runProofwalk.js'

const REPOSITORY = fileURLToPath(new URL('../..', import.meta.url))
const TSC = join(REPOSITORY, 'node_modules/typescript/bin/tsc')

/** Installing needs the registry for what the package stands on; where it cannot be reached that is a reason to skip, but never in CI. */
function registryIsReached(): boolean {
  const ping = ['ping', '--fetch-timeout=8000', '--fetch-retries=0']
  return process.env['CI'] !== undefined || spawnSync('npm', ping, { stdio: 'ignore' }).status === 0
}

describe.skipIf(!registryIsReached())(
  'the package (skipped only where the registry cannot be reached)',
  () => {
    let home: string
    let packed: { filename: string; files: { path: string }[] }

    /** What a program prints in a folder; it must end well. */
    async function outputOf(program: string, args: readonly string[], cwd: string): Promise<string> {
      const run = await runProgram(program, args, { cwd, killAfterMs: 280_000 })
      expect(run.status, run.err).toBe(0)
      return run.out
    }

    beforeAll(async () => {
      home = mkdtempSync(join(tmpdir(), 'proofwalk-package-'))
      // built before the tests; building again here would pull the ground from under those running beside this one
      const pack = ['pack', '--json', '--ignore-scripts', '--pack-destination', home]
      packed = (JSON.parse(await outputOf('npm', pack, REPOSITORY)) as (typeof packed)[])[0]!
      writeFileSync(
        join(home, 'package.json'),
        '{ "name": "elsewhere", "private": true, "type": "module" }\n',
      )
      // a program in TypeScript for node has node's types of its own
      const { devDependencies } = JSON.parse(readFileSync(join(REPOSITORY, 'package.json'), 'utf8')) as {
        devDependencies: Record<string, string>
      }
      const types = `@types/node@${devDependencies['@types/node']!}`
      const install = [
        'install',
        `./${packed.filename}`,
        types,
        '--no-audit',
        '--no-fund',
        '--prefer-offline',
      ]
      await outputOf('npm', install, home)
    }, 300_000)
    afterAll(() => rmSync(home, { recursive: true, force: true }))

    test('holds what runs and its licence, no tests, no sources, no walks', () => {
      const paths = packed.files.map(({ path }) => path)
      for (const path of [
        'bin/proofwalk.js',
        'dist/index.js',
        'dist/index.d.ts',
        'LICENSE',
        'README.md',
        'package.json',
      ])
        expect(paths).toContain(path)
      expect(
        paths.filter(
          (path) => !/^(bin|dist)\/|^(LICENSE|README\.md|CHANGELOG\.md|package\.json)$/.test(path),
        ),
      ).toEqual([])
      expect(paths.filter((path) => /\.(tsbuildinfo|test\.\w+)$/.test(path))).toEqual([])
    })

    test('runs as a command in an empty folder', async () => {
      const bin = join(home, 'node_modules/.bin/proofwalk')
      expect(await outputOf(bin, ['list', 'gradings'], home)).toContain('IEC 62676-4:2014')
      const { version } = JSON.parse(readFileSync(join(REPOSITORY, 'package.json'), 'utf8')) as {
        version: string
      }
      expect((await outputOf(bin, ['--version'], home)).trim()).toBe(version)
      const made = await outputOf(bin, ['new', 'my-camera', '--carry', '600x400mm'], home)
      expect(made).toContain('Next: proofwalk plan my-camera')
    })

    test('is imported by a program', async () => {
      const program = `import { measureStill, measureWalk, readWalk } from 'proofwalk'
const walk = await readWalk('my-camera')
const { stills } = await measureWalk(walk)
console.log(typeof measureStill, walk.site, stills.length)
`
      writeFileSync(join(home, 'program.js'), program)
      const told = await outputOf(process.execPath, ['program.js'], home)
      expect(told).toBe('function my-camera 0\n')
    })

    test('is imported with its types, and a wrong use of them is found', async () => {
      const right = `import { measureStill, measureWalk, readWalk, type WalkResults } from 'proofwalk'
export const results: WalkResults = await measureWalk(await readWalk('my-camera'), { workers: 1 })
export const distances: (number | null)[] = results.stills.map((still) => still.distance)
export const measure: typeof measureStill = measureStill
`
      writeFileSync(join(home, 'right.ts'), right)
      writeFileSync(join(home, 'wrong.ts'), right.replace('{ workers: 1 }', "{ workers: 'one' }"))
      const strict = ['--noEmit', '--strict', '--target', 'es2023', '--module', 'nodenext', '--types', 'node']
      const args = [TSC, ...strict, 'right.ts', 'wrong.ts']
      const { out } = await runProgram(process.execPath, args, { cwd: home })
      // A line that is not indented begins a fault.
      expect(out.match(/^\S.*$/gm)).toEqual([expect.stringMatching(/^wrong\.ts\(2,.*error TS2322/)])
    })
  },
)
