import { defineConfig } from 'vitest/config'

// "real" tests use a pseudo-terminal, a sound server, signals or real time. They run one after another, never
// beside each other: what listens to a loudspeaker hears a machine that is busy.
const REAL = 'tests/**/*.real.test.{ts,tsx}'

export default defineConfig({
  test: {
    globalSetup: './tests/build-once.ts',
    setupFiles: './tests/tidy.ts',
    // Ink draws nothing where it believes it runs in CI; programs under test get what each test says.
    env: { CI: 'false' },
    // Files follow each other in a few processes: starting one for each file costs more than most of the tests.
    isolate: false,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    projects: [
      {
        extends: true,
        test: { name: 'unit', maxWorkers: 2, include: ['tests/**/*.test.{ts,tsx}'], exclude: [REAL] },
      },
      {
        extends: true,
        test: {
          name: 'real',
          maxWorkers: 1,
          isolate: true,
          include: [REAL],
          globalSetup: './tests/sound/one-server.ts',
          testTimeout: 120_000,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
})
