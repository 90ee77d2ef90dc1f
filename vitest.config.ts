import { defineConfig } from 'vitest/config'

const ALL = ['tests/**/*.test.ts']
/** What puts a module of its own in another's place must not leave it there for the tests that follow. */
const ALONE = ['tests/walk/store/nothingTwice.test.ts', 'tests/sheet/judgedOnce.test.ts']

export default defineConfig({
  test: {
    testTimeout: 120_000,
    pool: 'forks',
    maxWorkers: 2,
    // What a page shows follows what was done to it, later on a busy machine.
    expect: { poll: { timeout: 20_000 } },
    projects: [
      // In one process after another file the modules are loaded already, which takes a third of the time off.
      { extends: true, test: { name: 'together', include: ALL, exclude: ALONE, isolate: false } },
      { extends: true, test: { name: 'alone', include: ALONE } },
    ],
  },
})
