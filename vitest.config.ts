import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 120_000,
    pool: 'forks',
    maxWorkers: 2,
    // What a page shows follows what was done to it, later on a busy machine.
    expect: { poll: { timeout: 20_000 } },
  },
})
