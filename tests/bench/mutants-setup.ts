import { appendFileSync } from 'node:fs'
import fc from 'fast-check'
import { afterAll, beforeEach, expect } from 'vitest'

// The same cases in each run; a counterexample is enough, the smallest one is not looked for.
fc.configureGlobal({ seed: 919, endOnFailure: true })

const names = new Set<string>()
const file = process.env.GRADINO_HITS
/** No test as it is goes through so many turns of the loops of one file. */
const MOST_TURNS = 3_000_000
let turns = 0
beforeEach(() => {
  turns = 0
})
Object.assign(globalThis, {
  gradinoEntered: (name: string) => names.add(name),
  gradinoTurn: () => {
    turns++
    if (turns > MOST_TURNS) throw new Error('a loop without an end')
  },
})
afterAll(() => {
  if (file && names.size > 0)
    appendFileSync(file, `${JSON.stringify([expect.getState().testPath, [...names]])}\n`)
})
