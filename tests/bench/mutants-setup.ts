import { appendFileSync } from 'node:fs'
import fc from 'fast-check'
import { afterAll, expect } from 'vitest'

// The same cases in each run; a counterexample is enough, the smallest one is not looked for.
fc.configureGlobal({ seed: 919, endOnFailure: true })

const names = new Set<string>()
const file = process.env.GRADINO_HITS
Object.assign(globalThis, { gradinoEntered: (name: string) => names.add(name) })
afterAll(() => {
  if (file && names.size > 0)
    appendFileSync(file, `${JSON.stringify([expect.getState().testPath, [...names]])}\n`)
})
