import { defineConfig } from 'vitest/config'

// "real" tests use a pseudo-terminal, a sound server, signals or real time: one after another, never beside each other.
const REAL = 'tests/**/*.real.test.{ts,tsx}'

export default defineConfig({
  test: {
    globalSetup: './tests/build-once.ts',
    // Ink draws nothing where it believes it runs in CI; programs under test get what each test says.
    env: { CI: 'false' },
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          maxWorkers: 2,
          testTimeout: 60_000,
          hookTimeout: 60_000,
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: [REAL],
        },
      },
      {
        extends: true,
        test: {
          name: 'real',
          include: [REAL],
          globalSetup: './tests/sound/one-server.ts',
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 60_000,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
})
