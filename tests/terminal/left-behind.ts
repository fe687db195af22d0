import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import type { Pty } from './pty.ts'

/** A folder for everything, gone when the test is over. */
export const newHome = (): string => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-home-'))
  onTestFinished(() => rmSync(home, { recursive: true, force: true }))
  return home
}

/** A terminal that ends with its test, and before its home goes. */
export const forThisTest = (pty: Pty): Pty => {
  onTestFinished(() => pty.dispose())
  return pty
}

/** No process has this id any more, not even one that waits to be read. */
export const gone = (pid: number): boolean => {
  try {
    process.kill(pid, 0)
    return false
  } catch {
    return true
  }
}
