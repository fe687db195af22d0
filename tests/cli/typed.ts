import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, vi } from 'vitest'
import { run } from '../../src/cli/run.ts'

/** Noon of a Saturday in March: the same local day from eight hours west of Greenwich to fourteen east. */
export const NOON = '2031-03-15T12:00:00Z'

const made: string[] = []
afterEach(() => {
  vi.restoreAllMocks()
  vi.unstubAllEnvs()
  for (const home of made.splice(0)) rmSync(home, { recursive: true, force: true })
})

/** A player with an empty home who types commands; what is answered comes back. */
export const player = () => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-typed-'))
  made.push(home)
  /** Exit status, standard output and standard error. */
  const type = async (...argv: string[]): Promise<{ status: number; out: string; err: string }> => {
    vi.stubEnv('GRADINO_NOW', NOON)
    let [out, err] = ['', '']
    const stdout = vi.spyOn(process.stdout, 'write').mockImplementation(s => {
      out += String(s)
      return true
    })
    const stderr = vi.spyOn(process.stderr, 'write').mockImplementation(s => {
      err += String(s)
      return true
    })
    try {
      const status = await run(['--home', home, ...argv])
      return { status, out, err }
    } finally {
      stdout.mockRestore()
      stderr.mockRestore()
    }
  }
  return {
    home,
    type,
    json: async (...argv: string[]) => JSON.parse((await type('--json', ...argv)).out),
  }
}
