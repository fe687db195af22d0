import { AssertionError } from 'node:assert'
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { FAULTS } from './faults.ts'
import { LAWS } from './laws.ts'
import type { Ladder } from './live.ts'

const FOLD = new URL('../../src/ladder/fold.ts', import.meta.url)
const source = readFileSync(FOLD, 'utf8')

/** The source of the fold with some of its text replaced, as a module of its own. */
const built = async (contents: string): Promise<Ladder> => {
  const bundle = await build({
    stdin: { contents, resolveDir: fileURLToPath(new URL('.', FOLD)), loader: 'ts' },
    bundle: true,
    write: false,
    format: 'esm',
    target: 'node20',
  })
  const text = bundle.outputFiles[0]?.text ?? ''
  return import(/* @vite-ignore */ `data:text/javascript;base64,${Buffer.from(text).toString('base64')}`)
}

/** Every law a few times, then the rare cases. Seeded, so that a fault dies every time or never. */
const FEW = 20
const MANY = 300

/** The first law that is found broken, or null. */
const broken = (ladder: Ladder, runs: readonly number[]): string | null => {
  for (const numRuns of runs)
    for (const law of LAWS) {
      const tried = fc.check(law.of(ladder), { seed: 919, numRuns, endOnFailure: true })
      // A module that merely breaks down proves nothing about the law.
      if (tried.failed && !(tried.errorInstance instanceof AssertionError)) throw tried.errorInstance
      if (tried.failed) return law.says
    }
  return null
}

describe('a fault planted in the fold breaks a law', () => {
  it('and the fold as it is breaks none', async () => {
    // That many runs break none either is what the laws' own tests say.
    expect(broken(await built(source), [FEW])).toBeNull()
  })

  it.each(FAULTS)('%s', async (_, text, instead) => {
    expect(source.split(text)).toHaveLength(2)
    expect(broken(await built(source.replace(text, () => instead)), [FEW, MANY])).not.toBeNull()
  })
})
