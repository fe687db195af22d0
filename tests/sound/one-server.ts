import type { TestProject } from 'vitest/node'
import { missing, startPulse } from './pulse.ts'

declare module 'vitest' {
  export interface ProvidedContext {
    /** Environment that points to the one sound server of all tests; null = there is none on this machine. */
    readonly soundServer: Readonly<Record<string, string>> | null
  }
}

/** One sound server with its null sink for all tests that only play and listen. */
export const setup = async (project: TestProject): Promise<(() => void) | undefined> => {
  const lacks = missing()
  project.provide('soundServer', null)
  if (lacks) {
    process.stderr.write(`What needs a sound server is left out: ${lacks} is not installed.\n`)
    return undefined
  }
  const pulse = await startPulse()
  project.provide('soundServer', pulse.env)
  return pulse.close
}
