import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** Is a program of the system there? Tests that need one are skipped without it, and say so in their names. */
export const installed = (tool: string): boolean => spawnSync(tool, ['--help']).error === undefined

/** " (skipped: soxi is not installed)", for the name of a test that needs it. */
export const orSkipped = (tool: string): string =>
  installed(tool) ? '' : ` (skipped: ${tool} is not installed)`

/** Runs a program on a file with this content and returns what it printed. Throws when it fails. */
export const runOn = (file: Uint8Array, tool: string, args: (path: string) => string[]): string => {
  const folder = mkdtempSync(join(tmpdir(), 'gradino-outside-'))
  try {
    const path = join(folder, 'click.wav')
    writeFileSync(path, file)
    const { status, stdout, stderr } = spawnSync(tool, args(path), { encoding: 'utf8', maxBuffer: 1 << 26 })
    if (status !== 0) throw new Error(`${tool}: ${stderr}`)
    return stdout
  } finally {
    rmSync(folder, { recursive: true })
  }
}
