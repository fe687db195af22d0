import { defineConfig } from 'vitest/config'

// In a pseudo-terminal or with processes of their own: beside the others, since what they wait for takes no processor.
const TERMINAL = 'tests/**/*.terminal.test.ts'
// With a sound server or without any device: one after another, never beside anything. What listens to a loudspeaker
// hears a machine that is busy.
const SOUND = 'tests/**/*.sound.test.ts'

// React as it is shipped, which takes half the time: for the workers, and for how JSX is compiled.
process.env.NODE_ENV = 'production'

export default defineConfig({
  // JSX as it is shipped too: React of production has no other.
  oxc: { jsx: { development: false } },
  test: {
    globalSetup: './tests/build-once.ts',
    setupFiles: './tests/tidy.ts',
    // Ink draws nothing where it believes it runs in CI; programs under test get what each test says.
    env: { CI: 'false' },
    // Files follow each other in a few processes: starting one for each file costs more than most of the tests.
    isolate: false,
    // The longest takes some 5 s of processor time; with two busy loops beside three workers each has a third of a core.
    testTimeout: 45_000,
    hookTimeout: 45_000,
    projects: [
      {
        extends: true,
        test: { name: 'terminal', maxWorkers: 3, isolate: true, testTimeout: 60_000, include: [TERMINAL] },
      },
      {
        extends: true,
        test: {
          name: 'unit',
          maxWorkers: 3,
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: [TERMINAL, SOUND],
        },
      },
      {
        extends: true,
        test: {
          name: 'sound',
          maxWorkers: 1,
          isolate: true,
          testTimeout: 60_000,
          include: [SOUND],
          globalSetup: './tests/sound/one-server.ts',
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
})
